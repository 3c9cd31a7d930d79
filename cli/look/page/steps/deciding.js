// Deciding: each remedy of a conflict has a button, which asks why.

function letDecide(card) {
  const { conflict, remedy } = card.dataset;
  const name = `decide ${conflict} ${remedy}`;
  const title = card.querySelector("h3");
  const open = pressed("Decide for this", () => ask(true), "decide");
  open.setAttribute("aria-expanded", "false");
  open.setAttribute("aria-describedby", title.id);
  card.append(made("p", "buttons", open));
  let form = null;

  function ask(isWanted) {
    open.setAttribute("aria-expanded", String(isWanted));
    open.hidden = isWanted;
    form?.remove();
    if (!isWanted) {
      open.focus();
      return;
    }
    form = stepForm({
      action: "decide",
      name,
      fields: [reason()],
      record: "Record this decision",
      told: ({ elements }) => ({ conflict, remedy, why: elements.why.value.trim() }),
      leave: () => ask(false),
    });
    card.append(form);
    form.elements.why.focus();
  }

  if (askedAgain.has(name)) {
    ask(true);
  }
}

whenShown.push(["[data-conflict][data-remedy]", letDecide]);
