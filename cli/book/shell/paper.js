// On paper nothing can be unfolded; lists stay as the reader has them, and every page has a head.

let unfolded = [];

addEventListener("beforeprint", () => {
  document.documentElement.style.setProperty("--head", JSON.stringify(document.title));
  unfolded = Array.from(main.querySelectorAll("details:not([open], .list)"));
  unfolded.forEach((each) => (each.open = true));
});
addEventListener("afterprint", () => unfolded.forEach((each) => (each.open = false)));
