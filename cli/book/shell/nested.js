// Where the graph is not shown, on a phone, the list of who derives from whom stands in its place.

const NARROW = matchMedia("(max-width: 40rem)");

function standIn(part) {
  const list = part.querySelector(".nested");
  const isAlways = list.open;
  const see = () => (list.open = isAlways || NARROW.matches);
  NARROW.addEventListener("change", see);
  see();
}

whenShown.push([".derivation", standIn]);
