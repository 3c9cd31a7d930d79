// The versions of a node, one at a time.

function stepThrough(part) {
  const versions = Array.from(part.querySelectorAll(".version"));
  const choice = part.querySelector("select");
  const older = part.querySelector(".older");
  const newer = part.querySelector(".newer");
  const place = part.querySelector(".place");

  function show(index) {
    const at = Math.min(Math.max(index, 0), versions.length - 1);
    versions.forEach((version, number) => (version.hidden = number !== at));
    choice.value = String(at);
    // Not disabled: a button that goes away under the finger takes the focus with it.
    older.setAttribute("aria-disabled", String(at === versions.length - 1));
    newer.setAttribute("aria-disabled", String(at === 0));
    place.textContent = `${versions.length - at} of ${versions.length}`;
  }

  const step = (by) => show(Number(choice.value) + by);
  older.addEventListener("click", () => step(1));
  newer.addEventListener("click", () => step(-1));
  choice.addEventListener("change", () => show(Number(choice.value)));
  show(0);
}

whenShown.push([".versions", stepThrough]);
