// On the page of a garment: write down what is seen on it, and say what mended it.

const GARMENT_PAGE = /^garment\/(.+)$/;

/** Let a place be chosen by pointing at its line, and show where the chosen one lies. */
function pointable(pictured, choice) {
  const mark = () => {
    pictured.querySelectorAll(".marked").forEach((each) => each.classList.remove("marked"));
    linesNamed(pictured, choice.value).forEach((each) => each.classList.add("marked"));
  };
  for (const option of Array.from(choice.options).filter((each) => each.value.includes("."))) {
    for (const line of linesNamed(pictured, option.value)) {
      const wide = line.cloneNode();
      wide.removeAttribute("id");
      wide.setAttribute("class", "touch");
      line.after(wide);
      wide.addEventListener("click", () => {
        choice.value = option.value;
        mark();
      });
    }
  }
  choice.addEventListener("change", mark);
  return mark;
}

/** A way to open a form whose fields are asked for, and to leave it again. */
class GarmentForm {
  constructor(words, record, action, garment, told, prepare) {
    this.name = `${action} ${garment}`;
    const done = () => this.forget();
    this.how = { action, name: this.name, record, done, leave: () => this.close() };
    this.told = told;
    this.prepare = prepare;
    this.garment = garment;
    this.form = null;
    this.refused = made("p", "refused");
    this.refused.setAttribute("role", "alert");
    this.way = pressed(words, () => this.open(), action);
    this.way.setAttribute("aria-expanded", "false");
    this.room = made("div", "", this.refused);
    if (askedAgain.has(this.name)) {
      this.open();
    }
  }

  async open() {
    if (this.form) {
      return;
    }
    this.refused.textContent = "";
    try {
      const { html } = await answerTo(`${this.how.action}-form`, { garment: this.garment });
      const fields = document.createElement("template");
      fields.innerHTML = html;
      const told = (form) => this.told(form.elements);
      this.form = stepForm({ ...this.how, fields: [fields.content, ...this.more()], told });
      this.room.append(this.form);
      this.way.setAttribute("aria-expanded", "true");
      this.prepare(this.form, this.name);
      this.form.querySelector("select").focus();
    } catch (error) {
      this.refused.textContent = error instanceof Refused ? error.message : STOPPED;
    }
  }

  more() {
    return this.how.action === "resolve" ? [reason()] : [];
  }

  forget() {
    photosGiven.delete(this.name);
    photosFromPhone.delete(this.name);
    notesFromPhone.delete(this.name);
  }

  close() {
    this.forget();
    this.form.remove();
    this.form = null;
    this.way.setAttribute("aria-expanded", "false");
    this.way.focus();
  }
}

function noteTold(garment) {
  return ({ symptom, place, amount, side, wearer, date, words }) => ({
    garment,
    symptom: symptom.value,
    place: place.value,
    amount: amount.value.trim(),
    side: side.value,
    wearer: wearer.value.trim(),
    date: date.value,
    words: words.value.trim(),
    photo: photoBytes(`note ${garment}`),
    phoned: notesFromPhone.has(`note ${garment}`),
    phoned_photo: isFromPhone(`note ${garment}`),
  });
}

function prepareNote(form, name) {
  takePhoto(form.querySelector(".photo"), name);
  pointable(form.querySelector(".point"), form.elements.place)();
}

function resolveTold({ note, step, why }) {
  const node = step.selectedOptions[0]?.dataset.node || "";
  return { note: note.value, step: step.value, node, why: why.value.trim() };
}

function prepareResolve(form) {
  const { note, step } = form.elements;
  const fit = () => {
    // What is open was mended by something; what was mended may be open again.
    const isOpen = note.selectedOptions[0].dataset.open !== "";
    const again = step.options[step.options.length - 1];
    if (isOpen !== (step.value !== again.value)) {
      step.value = isOpen ? step.options[0].value : again.value;
    }
  };
  note.addEventListener("change", fit);
  fit();
}

function letNote(heading) {
  const garment = GARMENT_PAGE.exec(addressNow().address)?.[1];
  if (garment === undefined) {
    return;
  }
  const noting = new GarmentForm(
    "Note what is seen on it",
    "Record this note",
    "note",
    garment,
    noteTold(garment),
    prepareNote,
  );
  const mended = new GarmentForm(
    "Say what mended a note",
    "Record that",
    "resolve",
    garment,
    resolveTold,
    prepareResolve,
  );
  const first = heading.nextElementSibling?.matches(".kind") ? heading.nextElementSibling : heading;
  const phoned = document.createElement("section");
  first.after(made("p", "buttons", noting.way, mended.way), phoned, noting.room, mended.room);
  new PhoneDoor(phoned, noting).look();
}

whenShown.push(["h1", letNote]);
