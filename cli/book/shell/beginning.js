// The beginning.

// The address stays that of the page at hand.
document.querySelector(".skip").addEventListener("click", (event) => {
  event.preventDefault();
  main.focus();
});

if (canRead) {
  addEventListener("hashchange", () => {
    clearTimeout(scrolling);
    turn();
  });
  turn();
} else {
  main.replaceChildren(sentence(TOO_OLD).content);
  find.hidden = true;
}
