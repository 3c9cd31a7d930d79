// On the page of a block or pattern: the ways to try a correction of it, or a change of its looks, on
// the line that was chosen.

const OFFERED = [
  ["try", "Try a correction"],
  ["style", "Try a style change"],
];

function offerTrying(part) {
  const node = addressNow().address.split("/")[1];
  const ways = OFFERED.map(() => document.createElement("a"));
  const words = document.createElement("p");
  words.className = "offer";
  words.append(...ways);
  part.before(words);

  function offer(line) {
    OFFERED.forEach(([page, offered], index) => {
      ways[index].href = `#/${page}/${node}${line ? `/${line}` : ""}`;
      ways[index].textContent = line ? `${offered} on ${line}` : offered;
    });
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
