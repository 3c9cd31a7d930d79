// Finding by name.

const find = document.querySelector(".find");
const suggested = document.getElementById("found");
const MOST_SUGGESTED = 30;
let names = null;

// A name is small letters, digits and hyphens; what is asked for may be written as it is spoken.
const asName = (text) =>
  text.normalize("NFD").replace(/\p{M}/gu, "").toLowerCase().trim().replace(/\s+/g, "-");

async function matching(text) {
  names = names || (await namesThere());
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
