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

function amendForetold(elements) {
  const { step, values } = amendTold(elements);
  return Object.keys(values).length ? { step, values } : null;
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
    foretold: amendForetold,
    rest: "Change an amount to see it.",
    more: [reason],
  });
  const drop = new AskedForm({
    words: "Take a step out",
    record: "Take this step out",
    action: "drop",
    about,
    told: ({ step, why }) => ({ step: step.value, why: why.value.trim() }),
    foretold: ({ step }) => ({ step: step.value }),
    rest: "Choose a step to see it.",
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
  const ways = [amend, drop, letFit(node), derive, cut, letPrint(node)];
  const buttons = made("p", "buttons", ...ways.map((each) => each.way));
  first.after(buttons, ...ways.map((each) => each.room));
}

whenShown.push(["h1", letStep]);
