// Where pages come from: the program that runs on this machine, which makes them as they are now.

/** The version of the wardrobe that this page shows, and who wants to know when it is another. */
let shownVersion = "";
/** How the wardrobe stood when the page at hand was made: all that a maker sees is of then. */
let asSeen = { version: "", stands: "" };
const whenMoved = [];

async function pageAt(address) {
  try {
    const page = await answerTo("view", { address });
    if (page.none) {
      return null;
    }
    shownVersion = page.version;
    asSeen = { version: page.version, stands: page.stands };
    return page;
  } catch (error) {
    const words = document.createElement("p");
    words.textContent = error instanceof Refused ? error.message : STOPPED;
    return { title: "", content: words.outerHTML };
  }
}

/** No page is kept: turned to again, it is as the wardrobe is by then. */
const leave = () => {};
const asLeft = () => null;

const namesThere = async () => (await answerTo("names", {})).names;

const canRead = "TextDecoderStream" in window;
const TOO_OLD = "This browser is too old for the live page; open it in a newer one.";
const UNREADABLE = STOPPED;
