"use strict";

// --- where pages come from ------------------------------------------------------------------

// The only place that knows the pages lie packed in this very file.
const packedPages = new Map(
  Array.from(document.querySelectorAll("script[data-address]"), (each) => [
    each.dataset.address,
    each,
  ]),
);

async function unpacked(element) {
  const bytes = Uint8Array.from(atob(element.textContent), (letter) => letter.charCodeAt(0));
  const stream = new Blob([bytes]).stream().pipeThrough(new DecompressionStream("gzip"));
  return JSON.parse(await new Response(stream).text());
}

async function pageAt(address) {
  const found = packedPages.get(address);
  return found ? unpacked(found) : null;
}

// --- turning pages --------------------------------------------------------------------------

const main = document.getElementById("page");
const wardrobe = document.title;
const FOUND = "find/";
let wanted = "";

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
    const page = await read(address);
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
  main.replaceChildren(page.content);
  document.title = page.title && address !== "start" ? `${page.title} - ${wardrobe}` : wardrobe;
  markMenu(address);
  main.querySelectorAll(".edges-of").forEach(tellEdges);
  main.querySelectorAll(".versions").forEach(stepThrough);
  listSections(address);
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
  main.querySelector("section").before(sections);
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
    return sentence("This page cannot be unpacked, the file is damaged; take another copy of it.");
  }
}

function sentence(words) {
  const content = document.createElement("p");
  content.textContent = words;
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

// --- turning back to where one was -----------------------------------------------------------

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

// --- the edges of a picture -----------------------------------------------------------------

function tellEdges(part) {
  const told = part.querySelector(".told");
  const rows = part.parentElement.querySelectorAll("tr[data-edge]");
  let marked = [];

  function tell(row, lines) {
    marked.forEach((each) => each.classList.remove("marked"));
    marked = [row, ...lines];
    marked.forEach((each) => each.classList.add("marked"));
    const [name, length, node, by] = Array.from(row.cells, (cell) => cell.textContent.trim());
    told.textContent = `${name}, ${length}: shaped at ${node}, ${by}`;
  }

  for (const row of rows) {
    const name = CSS.escape(row.dataset.edge);
    const lines = Array.from(part.querySelectorAll(`[id$=".${name}"], [id*=".${name}."]`));
    const tellThis = () => tell(row, lines);
    row.querySelector("button").addEventListener("click", tellThis);
    row.querySelector("button").addEventListener("focus", tellThis);
    for (const line of lines) {
      const wide = line.cloneNode();
      wide.removeAttribute("id");
      wide.setAttribute("class", "touch");
      line.after(wide);
      wide.addEventListener("pointerenter", tellThis);
      wide.addEventListener("click", tellThis);
    }
  }
}

// --- the versions of a node -----------------------------------------------------------------

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

// --- finding by name ------------------------------------------------------------------------

const find = document.querySelector(".find");
const suggested = document.getElementById("found");
const MOST_SUGGESTED = 30;
let names = null;

// A name is small letters, digits and hyphens; what is asked for may be written as it is spoken.
const asName = (text) =>
  text.normalize("NFD").replace(/\p{M}/gu, "").toLowerCase().trim().replace(/\s+/g, "-");

async function matching(text) {
  names = names || (await unpacked(document.getElementById("names")));
  const asked = asName(text);
  const found = names.filter(([name]) => name.includes(asked));
  const begins = ([name]) => name.startsWith(asked);
  return [...found.filter(begins), ...found.filter((each) => !begins(each))];
}

find.addEventListener("input", async () => {
  const found = await matching(find.elements.name.value);
  suggested.replaceChildren(
    ...found.slice(0, MOST_SUGGESTED).map(([name]) => {
      const option = document.createElement("option");
      option.value = name;
      return option;
    }),
  );
});

find.addEventListener("submit", async (event) => {
  event.preventDefault();
  const asked = find.elements.name.value.trim();
  const found = await matching(asked);
  const exact = found.filter(([name]) => name === asName(asked));
  const only = exact.length === 1 ? exact : found;
  location.hash = `/${only.length === 1 ? only[0][1] : FOUND + encodeURIComponent(asked)}`;
});

async function foundPage(asked) {
  const found = await matching(asked);
  const content = document.createDocumentFragment();
  const heading = document.createElement("h1");
  heading.tabIndex = -1;
  heading.textContent = `${found.length || "Nothing"} found for "${asked}"`;
  const list = document.createElement("ul");
  for (const [name, address] of found) {
    const link = document.createElement("a");
    link.href = `#/${address}`;
    link.textContent = name;
    const item = document.createElement("li");
    item.append(link, ` (${address.split("/")[0]})`);
    list.append(item);
  }
  content.append(heading, list);
  return { title: heading.textContent, content };
}

// --- on paper, where nothing can be unfolded -------------------------------------------------

let unfolded = [];

addEventListener("beforeprint", () => {
  unfolded = Array.from(main.querySelectorAll("details:not([open])"));
  unfolded.forEach((each) => (each.open = true));
});
addEventListener("afterprint", () => unfolded.forEach((each) => (each.open = false)));

// --- the beginning --------------------------------------------------------------------------

// The address stays that of the page at hand.
document.querySelector(".skip").addEventListener("click", (event) => {
  event.preventDefault();
  main.focus();
});

if ("DecompressionStream" in window) {
  addEventListener("hashchange", () => {
    clearTimeout(scrolling);
    turn();
  });
  turn();
} else {
  const words = "This browser is too old to unpack the pages of the book; open it in a newer one.";
  main.replaceChildren(sentence(words).content);
  find.hidden = true;
}
