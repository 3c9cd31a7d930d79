// Where pages come from: the only script that knows they lie packed in this very file.

const packedPages = new Map(
  Array.from(document.querySelectorAll("script[data-address]"), (each) => [
    each.dataset.address,
    each,
  ]),
);

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
  const found = packedPages.get(address);
  return found ? unpacked(found) : null;
}

const namesThere = () => unpacked(document.getElementById("names"));

const canRead = "DecompressionStream" in window;
const TOO_OLD = "This browser is too old to unpack the pages of the book; open it in a newer one.";
const UNREADABLE =
  "This page cannot be unpacked, the file is damaged; take another copy of it.";
