// A picture that can be looked at closely: layers are switched, and it is made larger in its frame.

const LARGEST = 8; // times as large as the whole
const BY = 1.5; // from one size to the next

function switchLayers(part) {
  for (const box of part.querySelectorAll("input[type=checkbox]")) {
    const layer = part.querySelectorAll(`svg [data-layer="${CSS.escape(box.value)}"]`);
    const show = () => layer.forEach((each) => each.classList.toggle("off", !box.checked));
    box.addEventListener("change", show);
    show();
  }
}

function makeLarger(part) {
  const frame = part.querySelector(".picture");
  const svg = frame.querySelector("svg");
  const [smaller, whole, larger] = ["smaller", "whole", "larger"].map((name) =>
    part.querySelector(`.zoom .${name}`),
  );
  let size = 1;
  let across = 0; // pixels, of the whole

  // What lies in the middle of the frame stays there; the frame itself keeps its size.
  function take(wanted) {
    const next = Math.min(Math.max(wanted, 1), LARGEST);
    if (size === 1) {
      across = svg.getBoundingClientRect().width;
      frame.style.height = `${frame.offsetHeight}px`;
    }
    const middle = [
      (frame.scrollLeft + frame.clientWidth / 2) / frame.scrollWidth,
      (frame.scrollTop + frame.clientHeight / 2) / frame.scrollHeight,
    ];
    size = next;
    frame.classList.toggle("larger", size > 1);
    svg.style.width = size > 1 ? `${across * size}px` : "";
    frame.style.height = size > 1 ? frame.style.height : "";
    frame.scrollLeft = middle[0] * frame.scrollWidth - frame.clientWidth / 2;
    frame.scrollTop = middle[1] * frame.scrollHeight - frame.clientHeight / 2;
    tell();
  }

  function tell() {
    smaller.setAttribute("aria-disabled", String(size === 1));
    whole.setAttribute("aria-disabled", String(size === 1));
    larger.setAttribute("aria-disabled", String(size === LARGEST));
  }

  const keys = { "+": () => size * BY, "=": () => size * BY, "-": () => size / BY, 0: () => 1 };
  frame.addEventListener("keydown", (event) => {
    if (event.key in keys && !event.ctrlKey && !event.metaKey && !event.altKey) {
      event.preventDefault();
      take(keys[event.key]());
    }
  });
  smaller.addEventListener("click", () => take(size / BY));
  larger.addEventListener("click", () => take(size * BY));
  whole.addEventListener("click", () => take(1));
  tell(); // nothing is measured here: the page is not laid out yet
}

whenShown.push([".drawn", switchLayers], [".drawn", makeLarger]);
