// Where pages come from: the only script that knows they lie packed in this very file.

const CUT_OFF =
  "Only a part of the file is here, pages are missing; take another copy of it.";

const fileRead = new Promise((done) => {
  addEventListener("DOMContentLoaded", done);
});

/** Return what lies in the file, whole: pages are shown while the browser still reads others. */
async function lying(selector) {
  if (!document.querySelector(selector)?.nextSibling) {
    await fileRead;
  }
  return document.querySelector(selector);
}

async function unpacked(element) {
  const letters = atob(element.textContent);
  const bytes = new Uint8Array(letters.length);
  for (let at = 0; at < letters.length; at += 1) {
    bytes[at] = letters.charCodeAt(at);
  }
  const stream = new Blob([bytes]).stream().pipeThrough(new DecompressionStream("gzip"));
  return JSON.parse(await new Response(stream).text());
}

async function pageAt(address) {
  const found = await lying(`script[data-address="${CSS.escape(address)}"]`);
  return found ? unpacked(found) : null;
}

const MOST_LEFT = 20;
const pagesLeft = new Map();

/** Keep a page that is turned away from as the reader leaves it: a book does not change. */
function leave(address, page) {
  pagesLeft.delete(address);
  pagesLeft.set(address, page);
  if (pagesLeft.size > MOST_LEFT) {
    pagesLeft.delete(pagesLeft.keys().next().value);
  }
}

const asLeft = (address) => pagesLeft.get(address) ?? null;

const namesThere = async () => unpacked(await lying("#names"));

fileRead.then(() => {
  if (!document.getElementById("end")) {
    const told = sentence(CUT_OFF).content;
    told.firstChild.setAttribute("role", "alert");
    main.before(told);
  }
});

const canRead = "DecompressionStream" in window;
const TOO_OLD = "This browser is too old to unpack the pages of the book; open it in a newer one.";
const UNREADABLE =
  "This page cannot be unpacked, the file is damaged; take another copy of it.";
