// The lines of a picture: one is chosen at a time, by any of them, and its story is told.
//
// Whoever wants to know which is told by an event of the part, `edge-chosen`, with `detail.edge`:
// "front.armhole", or "" where none is chosen any more.

const ROOM = 8; // pixels between what was chosen and its story

function chooseLines(part) {
  const story = part.querySelector(".story");
  const told = story.querySelector(".told");
  const close = story.querySelector(".close");
  const choice = part.querySelector("select.line");
  const pointed = part.querySelector(".pointed");
  const invitation = told.textContent;
  const named = (name) => part.querySelectorAll(`[data-edge="${CSS.escape(name)}"]`);
  let chosen = "";

  function choose(name) {
    if (name === chosen) {
      return;
    }
    for (const each of named(chosen)) {
      each.classList.remove("marked");
      each.toggleAttribute("hidden", each.matches("article"));
    }
    chosen = name;
    for (const each of named(name)) {
      each.classList.add("marked");
      each.removeAttribute("hidden");
    }
    choice.value = name;
    close.hidden = !name;
    story.classList.toggle("chosen", Boolean(name));
    told.textContent = name ? inShort(name) : invitation;
    story.scrollTop = 0;
    part.dispatchEvent(new CustomEvent("edge-chosen", { bubbles: true, detail: { edge: name } }));
  }

  // In one column the story comes over what it was chosen by, which is then moved out of its way.
  function uncover(element) {
    const [over, under] = [story, element].map((each) => each.getBoundingClientRect());
    if (chosen && over.left < under.right && over.top < under.bottom && under.top < over.bottom) {
      scrollBy(0, under.bottom - over.top + ROOM);
    }
  }

  function inShort(name) {
    const row = part.querySelector(`tr[data-edge="${CSS.escape(name)}"]`);
    const [edge, length, node, by] = Array.from(row.cells, (cell) => cell.textContent.trim());
    return `${edge}, ${length}: shaped at ${node}, ${by}`;
  }

  for (const row of part.querySelectorAll("tr[data-edge]")) {
    row.querySelector("button").addEventListener("click", () => choose(row.dataset.edge));
  }
  for (const group of part.querySelectorAll("svg [data-edge]")) {
    for (const line of group.querySelectorAll("path")) {
      const wide = line.cloneNode();
      wide.removeAttribute("id");
      wide.setAttribute("class", "touch");
      line.after(wide);
    }
    group.addEventListener("click", () => {
      choose(group.dataset.edge);
      uncover(group);
    });
    group.addEventListener("pointerenter", () => (pointed.textContent = group.dataset.edge));
    group.addEventListener("pointerleave", () => (pointed.textContent = ""));
  }
  choice.addEventListener("change", () => {
    choose(choice.value);
    uncover(choice);
  });
  close.addEventListener("click", () => {
    choose("");
    choice.focus();
  });
}

whenShown.push([".pattern", chooseLines]);
