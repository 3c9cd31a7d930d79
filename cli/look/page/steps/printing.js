// Printing a block or pattern: the whole sheet, or the pages on which a line moved.

function letPrint(node) {
  return new ReadForm({
    words: "Print it",
    action: "sheet",
    button: "Make the PDF",
    fields: sheetFields,
    told: ({ paper, moved, since }) => ({
      node,
      paper: paper.value.trim(),
      only_moved: moved.checked,
      since: moved.checked ? since.value.trim() : "",
    }),
    show: showSheet,
  });
}

function sheetFields() {
  const paper = named("input", "paper");
  paper.value = "a4";
  const since = named("input", "since");
  since.placeholder = "the one it was cut from last, unless said";
  const moved = named("input", "moved");
  moved.type = "checkbox";
  const whichSince = labelled("Since which version, as the history has it", since);
  whichSince.hidden = true;
  moved.addEventListener("input", () => (whichSince.hidden = !moved.checked));
  const words = " Only the pages on which a line moved, to lay over those of the sheet you have";
  return made(
    "div",
    "",
    labelled("Paper: a4, letter, a3, a0, or the width of a roll, as in 91.4cm", paper),
    made("label", "field", moved, words),
    whichSince,
  );
}

function named(tag, name) {
  const field = document.createElement(tag);
  field.name = name;
  field.maxLength = 500;
  return field;
}

function showSheet({ name, content, says }) {
  const said = fromHtml(says);
  if (content === "") {
    return [said];
  }
  handOver(name, Uint8Array.from(atob(content), (each) => each.charCodeAt(0)), "application/pdf");
  return [made("p", "", `${name} was handed over.`), said];
}
