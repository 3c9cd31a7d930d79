// Turning back to where one was.

// The browser cannot know how long a page is that is not unpacked yet.
history.scrollRestoration = "manual";
const SETTLED = 100; // milliseconds without scrolling; browsers mind being told of every pixel
let scrolling = 0;

const remember = () => history.replaceState({ scrolled: scrollY }, "");

addEventListener("scroll", () => {
  clearTimeout(scrolling);
  scrolling = setTimeout(remember, SETTLED);
});
addEventListener("click", remember, { capture: true });
addEventListener("pagehide", remember);
