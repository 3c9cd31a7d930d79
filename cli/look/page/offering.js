// On the page of a block or pattern: the way to try a correction of it, on the line that was chosen.

function offerTrying(part) {
  const { address } = addressNow();
  const node = address.split("/")[1];
  const way = document.createElement("a");
  const words = document.createElement("p");
  words.className = "offer";
  words.append(way);
  part.before(words);

  function offer(line) {
    way.href = `#/try/${node}${line ? `/${line}` : ""}`;
    way.textContent = line ? `Try a correction on ${line}` : "Try a correction";
  }

  offer("");
  for (const row of part.parentElement.querySelectorAll("tr[data-edge]")) {
    const chosen = () => offer(row.dataset.edge);
    row.querySelector("button").addEventListener("click", chosen);
    linesNamed(part, row.dataset.edge).forEach((line) => {
      line.addEventListener("click", chosen);
      line.nextElementSibling?.matches(".touch") &&
        line.nextElementSibling.addEventListener("click", chosen);
    });
  }
}

/** The lines of an edge in a picture: where darts part it there are several. */
function linesNamed(part, edge) {
  const name = CSS.escape(edge);
  return Array.from(part.querySelectorAll(`path[id$=".${name}"], path[id*=".${name}."]`)).filter(
    (line) => /^[^.]+\.(.+?)(\.\d+)?$/.exec(line.id)?.[1] === edge,
  );
}

whenShown.push([".edges-of", offerTrying]);
