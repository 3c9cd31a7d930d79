// Following the wardrobe: others write to it, too, and what stands on this page may be of before.

const OFTEN = 1500; // milliseconds between two looks while the page is seen
const SELDOM = 20000;
const stood = document.querySelector(".stands");
const meanwhile = document.createElement("div");
meanwhile.className = "meanwhile";
meanwhile.setAttribute("role", "status");
main.before(meanwhile);

async function follow() {
  const asked = shownVersion;
  let now = null;
  try {
    now = await answerTo("now", { version: asked });
  } catch (error) {
    if (error.message === STOPPED) {
      tellStopped();
      return;
    }
  }
  // Where another page was turned to meanwhile, the answer is about the one before.
  if (now !== null && asked === shownVersion) {
    tellNow(now);
  }
  setTimeout(follow, document.hidden ? SELDOM : OFTEN);
}

function tellNow(now) {
  if (wardrobe !== now.name) {
    document.title = document.title.replace(wardrobe, now.name);
    wardrobe = now.name;
    document.querySelector(".wardrobe").firstChild.textContent = `${now.name} `;
  }
  stood.textContent = now.stands;
  for (const [page, count] of Object.entries(now.counts)) {
    document.querySelector(`nav .count[data-of="${page}"]`).textContent = count && ` ${count}`;
  }
  if (shownVersion !== "" && now.version !== shownVersion) {
    tellMeanwhile(now);
  }
}

function tellMeanwhile(now) {
  shownVersion = now.version;
  names = null;
  const words = document.createElement("p");
  words.className = "moved-on";
  const steps = [...now.since, ...(now.more ? [`and ${now.more} more`] : [])].join("; ");
  words.textContent = steps
    ? `Meanwhile the wardrobe moved on: ${steps}.`
    : "Meanwhile files of the wardrobe were edited.";
  const again = document.createElement("button");
  again.type = "button";
  again.textContent = "Show this page as it is now";
  again.addEventListener("click", turnAgain);
  words.append(" ", again);
  tellFirst(words);
  whenMoved.forEach((each) => each(now));
}

/** Show the page at hand as it is now. */
function turnAgain() {
  wanted = "";
  meanwhile.replaceChildren();
  return turn();
}

function tellStopped() {
  const words = document.createElement("p");
  words.textContent = STOPPED;
  tellFirst(words);
}

/** Say something above what was told of a step, which was recorded, in place of what stood there. */
function tellFirst(words) {
  meanwhile.querySelector(":scope > .moved-on")?.remove();
  meanwhile.prepend(words);
}

addEventListener("hashchange", () => meanwhile.replaceChildren());
addEventListener("pagehide", () => {
  if (token !== "") {
    posted("leave", {}, token, { keepalive: true }).catch(() => null);
  }
});
addEventListener("pageshow", (event) => event.persisted && location.reload());
follow();
