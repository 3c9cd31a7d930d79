// Taking a step: it is asked for on the wardrobe as the page shows it; what was recorded is told with
// its command, and can be taken back. Where someone else wrote meanwhile it is asked again.

/** What was written into the fields of a step that is to be asked again, by the name of the step. */
const askedAgain = new Map();

/** Make an element of a class, with what is in it. */
function made(tag, className, ...inside) {
  const element = document.createElement(tag);
  if (className) {
    element.className = className;
  }
  element.append(...inside);
  return element;
}

function pressed(words, act, className = "") {
  const button = made("button", className, words);
  button.type = "button";
  button.addEventListener("click", act);
  return button;
}

function labelled(words, field) {
  return made("label", "field", made("span", "", words), field);
}

/** A field in which a step is given its reason. */
function reason() {
  const field = document.createElement("textarea");
  field.name = "why";
  field.rows = 2;
  field.maxLength = 20000;
  field.placeholder = "as you would tell it in a year";
  return labelled("Why", field);
}

/**
 * Make a form of what asks for a step: its fields, the version it is taken on, its buttons, and
 * room for what is refused. `told` gives what the action is told of the fields as they are;
 * `done` is called once it is recorded, `leave` where it is left; `foretelling` says what it would
 * do. With `onLatest` it is taken on the wardrobe as it is, for nothing of it was shown.
 */
function stepForm({ action, name, fields, record, told, leave, done, foretelling, onLatest }) {
  const seen = asSeen;
  const refused = made("p", "refused");
  refused.setAttribute("role", "alert");
  const button = made("button", "record", record);
  const buttons = made("p", "buttons", button);
  if (leave) {
    buttons.append(" ", pressed("Leave it", leave));
  }
  const on = made("p", "small", `On the wardrobe as this page shows it: ${seen.stands}.`);
  const asks = [...fields, ...(onLatest ? [] : [on]), refused, buttons];
  const form = foretelling
    ? made("form", "step foretold", made("div", "", ...asks), foretelling.part)
    : made("form", "step", ...asks);
  on.classList.add("stands-on");
  form.autocomplete = "off";
  let isUnderWay = false;
  form.addEventListener("submit", async (event) => {
    event.preventDefault();
    if (isUnderWay || button.getAttribute("aria-disabled") === "true") {
      return;
    }
    isUnderWay = true;
    refused.textContent = "";
    button.setAttribute("aria-disabled", "true");
    try {
      const version = onLatest ? shownVersion : foretelling?.version || seen.version;
      const answer = await answerTo(action, { ...(await told(form)), version });
      if (answer.moved && onLatest) {
        shownVersion = (await answerTo("now", { version: version })).version;
        refused.textContent = `${answer.moved} Record it again.`;
      } else if (answer.moved) {
        askedAgain.set(name, written(form));
        await showAgain();
        tellThere(made("p", "", `${answer.moved} Look at it as it is now, and record it then.`));
      } else {
        done?.();
        await tellStep(answer);
      }
    } catch (error) {
      refused.textContent = error instanceof Refused ? error.message : STOPPED;
    } finally {
      isUnderWay = false;
      button.removeAttribute("aria-disabled");
    }
  });
  fill(form, askedAgain.get(name));
  askedAgain.delete(name);
  return form;
}

function written(form) {
  const named = Array.from(form.elements).filter((each) => each.name && each.type !== "file");
  return named.map(({ name, value, checked }) => ({ name, value, checked }));
}

function fill(form, values) {
  const fields = Array.from(form.elements);
  for (const { name, value, checked } of values || []) {
    const at = fields.findIndex(
      (each) => each.name === name && (each.type !== "checkbox" || each.value === value),
    );
    if (at < 0) {
      continue;
    }
    // Of several fields of one name each is filled in once.
    const [field] = fields.splice(at, 1);
    if (field.type === "checkbox") {
      field.checked = checked;
    } else {
      field.value = value;
    }
  }
}

/** Show the page at hand as it is now, in the place where it was. */
async function showAgain() {
  wanted = "";
  names = null;
  await turn();
}

/** Say something above the page, and have it read out. */
function tellThere(...parts) {
  meanwhile.replaceChildren(...parts);
  meanwhile.tabIndex = -1;
  meanwhile.focus();
  meanwhile.scrollIntoView({ block: "nearest" });
}

/** Say which step was recorded, with its command, and how it is taken back. */
async function tellStep(answer, ...more) {
  await showAgain();
  const short = answer.recorded.slice(0, 10);
  const command = made("pre", "command", made("code", "", answer.command));
  command.tabIndex = 0;
  const refused = made("p", "refused");
  refused.setAttribute("role", "alert");
  const back = pressed("Undo this step", async () => {
    try {
      const undone = await answerTo("undo", { version: answer.version });
      if (undone.moved) {
        refused.textContent = undone.moved;
      } else {
        await tellUndone(undone);
      }
    } catch (error) {
      refused.textContent = error instanceof Refused ? error.message : STOPPED;
    }
  });
  tellThere(
    made("p", "", `${answer.first} Recorded as ${short}: ${answer.subject}. `.trimStart(), ...more),
    made("p", "", "The same as this command makes:"),
    command,
    made("p", "buttons", back),
    refused,
  );
}

async function tellUndone(answer) {
  await showAgain();
  const short = answer.recorded.slice(0, 10);
  const command = made("pre", "command", made("code", "", answer.command));
  command.tabIndex = 0;
  const words = `Taken back as ${short}. ${answer.subject}.`;
  tellThere(made("p", "", words), made("p", "", "The same as this command makes:"), command);
}
