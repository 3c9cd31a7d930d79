// Lengths on a slider and beside it: one is moved, the other is written, both say the same.

const SIXTEENTHS = 16;

/** A length as a maker writes it in a unit: decimals, or sixteenths of an inch. */
function lengthWritten(value, unit) {
  if (unit !== "in") {
    return String(Number(value.toFixed(1)));
  }
  const all = Math.round(Math.abs(value) * SIXTEENTHS);
  const whole = Math.floor(all / SIXTEENTHS);
  let top = all % SIXTEENTHS;
  let bottom = SIXTEENTHS;
  while (top && top % 2 === 0) {
    top /= 2;
    bottom /= 2;
  }
  const parts = [...(whole || !top ? [String(whole)] : []), ...(top ? [`${top}/${bottom}`] : [])];
  return `${value < 0 && all ? "-" : ""}${parts.join(" ")}`;
}

/** What was written, as a number of units; NaN where only the program can read it. */
function lengthRead(text, unit) {
  const bare = text.trim().replace(/−/g, "-").replace(",", ".").replace(new RegExp(`${unit}$`), "");
  const found = /^([+-]?)(?:(\d+)\s+)?(?:(\d+)\/([1-9]\d*)|(\d*\.?\d+))\s*$/.exec(bare);
  if (!found || (found[2] && found[5])) {
    return NaN;
  }
  const [, sign, whole, top, bottom, decimal] = found;
  const size = decimal !== undefined ? Number(decimal) : Number(whole || 0) + top / bottom;
  return sign === "-" ? -size : size;
}

/** Keep a slider and the field beside it together; `moved` is told of every change. */
function keepTogether(control, moved) {
  const slider = control.querySelector(".slide");
  const field = control.querySelector("input[type=text]");
  const unit = slider.dataset.unit;

  function follow() {
    const value = lengthRead(field.value, unit);
    if (Number.isNaN(value)) {
      return;
    }
    // A slider holds what was written, however far that is.
    slider.min = Math.min(Number(slider.min), value);
    slider.max = Math.max(Number(slider.max), value);
    slider.value = value;
  }

  slider.addEventListener("input", () => {
    field.value = lengthWritten(Number(slider.value), unit);
    moved(control);
  });
  field.addEventListener("input", () => {
    follow();
    moved(control);
  });
  field.addEventListener("keydown", (event) => {
    const by = { ArrowUp: 1, ArrowDown: -1 }[event.key];
    const value = lengthRead(field.value || "0", unit);
    if (!by || Number.isNaN(value)) {
      return;
    }
    event.preventDefault();
    field.value = lengthWritten(value + by * Number(slider.step), unit);
    follow();
    moved(control);
  });
  follow();
}

const STEPS_NEAR = [1, -1, 2, -2];

/** What is written beside a slider a few steps on: it is likely to be asked for next. */
function lengthsNear(control) {
  const slider = control.querySelector(".slide");
  const value = lengthRead(control.querySelector("input[type=text]").value, slider.dataset.unit);
  if (Number.isNaN(value)) {
    return [];
  }
  return STEPS_NEAR.map((steps) =>
    lengthWritten(value + steps * Number(slider.step), slider.dataset.unit),
  );
}
