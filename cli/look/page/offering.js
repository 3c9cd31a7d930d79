// On the page of a block or pattern: the way to try a correction of it, on the line that was chosen.

function offerTrying(part) {
  const node = addressNow().address.split("/")[1];
  const way = document.createElement("a");
  const words = document.createElement("p");
  words.className = "offer";
  words.append(way);
  part.before(words);

  function offer(line) {
    way.href = `#/try/${node}${line ? `/${line}` : ""}`;
    way.textContent = line ? `Try a correction on ${line}` : "Try a correction";
  }

  part.addEventListener("edge-chosen", (event) => offer(event.detail.edge));
  offer("");
}

/** The lines of an edge in a picture: where darts part it there are several. */
function linesNamed(part, edge) {
  const name = CSS.escape(edge);
  return Array.from(part.querySelectorAll(`path[id$=".${name}"], path[id*=".${name}."]`)).filter(
    (line) => /^[^.]+\.(.+?)(\.\d+)?$/.exec(line.id)?.[1] === edge,
  );
}

whenShown.push([".pattern", offerTrying]);
