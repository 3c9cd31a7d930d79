// What was pinned on a garment: as many amounts as were found, and the corrections they stand for.

/** Have as many rows of fields as what was written before had. */
function arrangePins(fields, values) {
  const first = fields.querySelector(".pin");
  const others = (values || []).filter(({ name }) => name === "how").length - 1;
  for (let count = 0; count < others; count += 1) {
    first.after(first.cloneNode(true));
  }
}

function preparePins(form) {
  const more = pressed("Another one", () => {
    const last = Array.from(form.querySelectorAll(".pin")).pop();
    const next = last.cloneNode(true);
    next.querySelectorAll("input").forEach((each) => (each.value = ""));
    last.after(next);
    next.querySelector("select").focus();
  });
  Array.from(form.querySelectorAll(".pin")).pop().after(made("p", "buttons", more));
}

function pinsTold(form) {
  const rows = Array.from(form.querySelectorAll(".pin"), (row) =>
    Object.fromEntries(
      Array.from(row.querySelectorAll("select, input"), (each) => [each.name, each.value.trim()]),
    ),
  );
  return rows.filter(({ place, amount }) => place || amount);
}

function fitTold({ on, why }) {
  return { pins: pinsTold(on.form), on: on.value, why: why.value.trim() };
}

function fitForetold(elements) {
  const told = fitTold(elements);
  const isWhole = told.pins.length && told.pins.every(({ place, amount }) => place && amount);
  return isWhole ? told : null;
}

/** Show the corrections that amounts stand for, and hand them over as a file. */
function showFit({ says, file }) {
  const keep = pressed("Hand over the fitting as a file", () =>
    handOver(file.name, file.text, "application/toml"),
  );
  return [fromHtml(says), made("p", "buttons", keep)];
}

function letFit(node) {
  return new AskedForm({
    words: "Fit it from pins",
    record: "Record these corrections",
    action: "fit",
    about: { node },
    told: fitTold,
    arrange: arrangePins,
    prepare: preparePins,
    foretold: fitForetold,
    also: showFit,
    rest: "Say where and how much to see it.",
    more: [reason],
  });
}
