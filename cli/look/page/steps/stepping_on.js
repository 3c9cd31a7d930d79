// On the page of a block or pattern: steps other than a correction, and its sheet.

const NODE_PAGE = /^(?:block|pattern)\/(.+)$/;

const chosenIn = (form, name) =>
  Array.from(form.querySelectorAll(`[name=${name}]:checked`), (each) => each.value);

function amendTold({ step, why }) {
  const changed = {};
  for (const field of step.form.querySelectorAll(`[data-step="${step.value}"] [data-was]`)) {
    const isFlag = field.type === "checkbox";
    const now = isFlag ? (field.checked ? "yes" : "") : field.value.trim();
    if (now !== field.dataset.was) {
      changed[field.dataset.option] = now === "" ? null : isFlag || now;
    }
  }
  return { step: step.value, values: changed, why: why.value.trim() };
}

function prepareAmend(form) {
  const { step } = form.elements;
  const fit = () => {
    for (const part of form.querySelectorAll("[data-step]")) {
      part.hidden = part.dataset.step !== step.value;
    }
  };
  step.addEventListener("change", fit);
  fit();
}

/** Hand a file over to be saved where the maker says. */
function download({ name, content }) {
  const bytes = Uint8Array.from(atob(content), (each) => each.charCodeAt(0));
  const link = document.createElement("a");
  link.href = URL.createObjectURL(new Blob([bytes], { type: "application/pdf" }));
  link.download = name;
  document.body.append(link);
  link.click();
  link.remove();
  setTimeout(() => URL.revokeObjectURL(link.href), 60000);
}

function letPrint(node) {
  const paper = document.createElement("input");
  paper.name = "paper";
  paper.value = "a4";
  paper.maxLength = 500;
  const refused = made("p", "refused");
  refused.setAttribute("role", "alert");
  const done = made("p", "small");
  done.setAttribute("role", "status");
  const form = made(
    "form",
    "step",
    labelled("Paper: a4, letter, a0, or the width of a roll, as in 91.4cm", paper),
    refused,
    made("p", "buttons", made("button", "", "Make the PDF")),
    done,
  );
  form.hidden = true;
  form.addEventListener("submit", async (event) => {
    event.preventDefault();
    refused.textContent = "";
    done.textContent = "";
    try {
      const sheet = await answerTo("sheet", { node, paper: paper.value.trim() });
      download(sheet);
      done.textContent = `${sheet.name} was handed over. The same by command: ${sheet.command}`;
    } catch (error) {
      refused.textContent = error instanceof Refused ? error.message : STOPPED;
    }
  });
  const way = pressed("Print it", () => {
    form.hidden = !form.hidden;
    way.setAttribute("aria-expanded", String(!form.hidden));
    if (!form.hidden) {
      paper.focus();
    }
  }, "print");
  way.setAttribute("aria-expanded", "false");
  return { way, room: form };
}

function letStep(heading) {
  const node = NODE_PAGE.exec(addressNow().address)?.[1];
  if (node === undefined) {
    return;
  }
  const about = { node };
  const amend = new AskedForm({
    words: "Amend a step",
    record: "Record these amounts",
    action: "amend",
    about,
    told: amendTold,
    prepare: prepareAmend,
    more: [reason],
  });
  const drop = new AskedForm({
    words: "Take a step out",
    record: "Take this step out",
    action: "drop",
    about,
    told: ({ step, why }) => ({ step: step.value, why: why.value.trim() }),
    more: [reason],
  });
  const derive = new AskedForm({
    words: "Derive a pattern from it",
    record: "Derive it",
    action: "derive",
    about,
    told: ({ name, block }) => ({
      name: name.value.trim(),
      pieces: chosenIn(name.form, "piece"),
      is_block: block.checked,
    }),
  });
  const cut = new AskedForm({
    words: "Cut a garment from it",
    record: "Record that it was cut",
    action: "cut",
    about,
    told: ({ name, fabric, wearer, date }) => ({
      name: name.value.trim(),
      fabric: fabric.value.trim(),
      wearer: wearer.value.trim(),
      date: date.value,
      stitched_down: chosenIn(name.form, "edge"),
    }),
  });
  const first = heading.nextElementSibling?.matches(".kind") ? heading.nextElementSibling : heading;
  const ways = [amend, drop, derive, cut, letPrint(node)];
  const buttons = made("p", "buttons", ...ways.map((each) => each.way));
  first.after(buttons, ...ways.map((each) => each.room));
}

whenShown.push(["h1", letStep]);
