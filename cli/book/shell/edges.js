// The edges of a picture: each tells where it comes from.

function tellEdges(part) {
  const told = part.querySelector(".told");
  const rows = part.parentElement.querySelectorAll("tr[data-edge]");
  let marked = [];

  function tell(row, lines) {
    marked.forEach((each) => each.classList.remove("marked"));
    marked = [row, ...lines];
    marked.forEach((each) => each.classList.add("marked"));
    const [name, length, node, by] = Array.from(row.cells, (cell) => cell.textContent.trim());
    told.textContent = `${name}, ${length}: shaped at ${node}, ${by}`;
  }

  for (const row of rows) {
    const name = CSS.escape(row.dataset.edge);
    const lines = Array.from(part.querySelectorAll(`[id$=".${name}"], [id*=".${name}."]`));
    const tellThis = () => tell(row, lines);
    row.querySelector("button").addEventListener("click", tellThis);
    row.querySelector("button").addEventListener("focus", tellThis);
    for (const line of lines) {
      const wide = line.cloneNode();
      wide.removeAttribute("id");
      wide.setAttribute("class", "touch");
      line.after(wide);
      wide.addEventListener("pointerenter", tellThis);
      wide.addEventListener("click", tellThis);
    }
  }
}

whenShown.push([".edges-of", tellEdges]);
