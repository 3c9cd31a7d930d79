// On paper nothing can be unfolded.

let unfolded = [];

addEventListener("beforeprint", () => {
  unfolded = Array.from(main.querySelectorAll("details:not([open])"));
  unfolded.forEach((each) => (each.open = true));
});
addEventListener("afterprint", () => unfolded.forEach((each) => (each.open = false)));
