// Turning pages: the address says which; what a part of a page needs once it is shown is told here.

const main = document.getElementById("page");
let wardrobe = document.title;
const FOUND = "find/";
let wanted = "";
/** The page at hand and its address; what stands on it is put back when it is left. */
let shown = null;

/** What a part of a page needs once it is shown: pairs of a selector and a function of the part. */
const whenShown = [];

function addressNow() {
  const written = location.hash.replace(/^#\/?/, "") || "start";
  try {
    return placed(decodeURIComponent(written));
  } catch {
    return placed(written); // no address of this book: all of its own can be decoded
  }
}

/** Tell the address of a page from the place on it: pattern/NAME, or pattern/NAME/measures. */
function placed(written) {
  const [kind, name, place] = written.split("/");
  const isWhole = place === undefined || written.startsWith(FOUND);
  return isWhole ? { address: written, place: "" } : { address: `${kind}/${name}`, place };
}

async function turn() {
  const isFirst = wanted === "";
  const scrolled = history.state?.scrolled;
  const { address, place } = addressNow();
  if (address !== wanted) {
    wanted = address;
    const page = asLeft(address) ?? (await read(address));
    if (address !== wanted) {
      return; // turned on meanwhile
    }
    show(page, address);
  }
  const heading = (place && document.getElementById(place)) || main.querySelector("h1") || main;
  if (!isFirst || place) {
    heading.tabIndex = -1;
    heading.focus({ preventScroll: true });
  }
  if (scrolled === undefined && place) {
    heading.scrollIntoView();
  } else {
    scrollTo(0, scrolled ?? 0);
  }
}

function show(page, address) {
  if (shown) {
    shown.page.content.append(...main.childNodes);
    leave(shown.address, shown.page);
  }
  main.replaceChildren(page.content);
  document.title = page.title && address !== "start" ? `${page.title} - ${wardrobe}` : wardrobe;
  markMenu(address);
  if (!page.wasShown) {
    for (const [selector, prepare] of whenShown) {
      main.querySelectorAll(selector).forEach(prepare);
    }
    listSections(address);
  }
  shown = { address, page: { title: page.title, content: new DocumentFragment(), wasShown: true } };
}

const FEWEST_LISTED = 4; // sections; a page of fewer is taken in at a glance

function listSections(address) {
  const headings = Array.from(main.querySelectorAll("h2[id]"));
  if (headings.length < FEWEST_LISTED) {
    return;
  }
  const list = document.createElement("ul");
  for (const heading of headings) {
    const link = document.createElement("a");
    link.href = `#/${address}/${heading.id}`;
    link.textContent = heading.textContent;
    const item = document.createElement("li");
    item.append(link);
    list.append(item);
  }
  const sections = document.createElement("nav");
  sections.className = "sections";
  sections.setAttribute("aria-label", "On this page");
  sections.append(list);
  (main.querySelector(".columns") ?? main.querySelector("section")).before(sections);
}

async function read(address) {
  try {
    if (address.startsWith(FOUND)) {
      return await foundPage(address.slice(FOUND.length));
    }
    const page = await pageAt(address);
    if (page === null) {
      return sentence(`This book has no page "${address}"; take one of those above.`);
    }
    const made = document.createElement("template");
    made.innerHTML = page.content;
    return { title: page.title, content: made.content };
  } catch {
    return sentence(UNREADABLE);
  }
}

function sentence(words) {
  const content = document.createDocumentFragment();
  const told = document.createElement("p");
  told.textContent = words;
  content.append(told);
  return { title: "", content };
}

function markMenu(address) {
  for (const link of document.querySelectorAll("nav a")) {
    const isHere = link.getAttribute("href") === `#/${address}`;
    link.toggleAttribute("aria-current", isHere);
    if (isHere) {
      link.setAttribute("aria-current", "page");
    }
  }
}
