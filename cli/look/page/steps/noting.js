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

function forgetPhoto(name) {
  photosGiven.delete(name);
  photosFromPhone.delete(name);
  notesFromPhone.delete(name);
}

function noteTold(garment) {
  return ({ symptom, place, amount, side, wearer, date, words }) => ({
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
  const noting = new AskedForm({
    words: "Note what is seen on it",
    record: "Record this note",
    action: "note",
    about: { garment },
    told: noteTold(garment),
    prepare: prepareNote,
    forget: forgetPhoto,
  });
  const mended = new AskedForm({
    words: "Say what mended a note",
    record: "Record that",
    action: "resolve",
    about: { garment },
    told: resolveTold,
    prepare: prepareResolve,
    more: [reason],
  });
  const status = new AskedForm({
    words: "Say how far it has come",
    record: "Record that",
    action: "status",
    about: { garment },
    told: ({ status: chosen, why }) => ({ status: chosen.value, why: why.value.trim() }),
    more: [reason],
  });
  const first = heading.nextElementSibling?.matches(".kind") ? heading.nextElementSibling : heading;
  const phoned = document.createElement("section");
  const ways = [noting, mended, letAlter(garment), status];
  const buttons = made("p", "buttons", ...ways.map((each) => each.way));
  first.after(buttons, phoned, ...ways.map((each) => each.room));
  new PhoneDoor(phoned, noting).look();
}

whenShown.push(["h1", letNote]);
