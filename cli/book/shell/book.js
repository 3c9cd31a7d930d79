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
let wanted = "";

function addressNow() {
  return location.hash.startsWith("#/") ? decodeURIComponent(location.hash.slice(2)) : "start";
}

async function turn() {
  if (location.hash && !location.hash.startsWith("#/")) {
    return; // a place on the page at hand
  }
  const isFirst = wanted === "";
  const address = (wanted = addressNow());
  const page = await pageAt(address);
  if (address !== wanted) {
    return; // turned on meanwhile
  }
  if (page === null) {
    const message = document.createElement("p");
    message.textContent = `This book has no page "${address}"; take one of those above.`;
    main.replaceChildren(message);
    document.title = wardrobe;
  } else {
    main.innerHTML = page.content;
    document.title = address === "start" ? wardrobe : `${page.title} - ${wardrobe}`;
  }
  markMenu(address);
  main.querySelectorAll(".edges-of").forEach(tellEdges);
  main.querySelectorAll(".versions").forEach(stepThrough);
  if (!isFirst) {
    scrollTo(0, 0);
    (main.querySelector("h1") || main).focus({ preventScroll: true });
  }
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

async function matching(text) {
  names = names || (await unpacked(document.getElementById("names")));
  const asked = text.trim().toLowerCase();
  const has = ([name]) => name.toLowerCase().includes(asked);
  const begins = ([name]) => name.toLowerCase().startsWith(asked);
  const found = names.filter(has);
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
  const found = await matching(find.elements.name.value);
  if (found.length === 1 || (found.length && found[0][0] === find.elements.name.value.trim())) {
    location.hash = `/${found[0][1]}`;
  } else {
    listFound(found, find.elements.name.value.trim());
  }
});

function listFound(found, asked) {
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
  main.replaceChildren(heading, list);
  heading.focus();
}

// --- on paper, where nothing can be unfolded -------------------------------------------------

let unfolded = [];

addEventListener("beforeprint", () => {
  unfolded = Array.from(main.querySelectorAll(".edges:not([open])"));
  unfolded.forEach((each) => (each.open = true));
});
addEventListener("afterprint", () => unfolded.forEach((each) => (each.open = false)));

// --- the beginning --------------------------------------------------------------------------

addEventListener("hashchange", turn);
turn();
