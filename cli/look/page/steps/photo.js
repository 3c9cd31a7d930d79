// A photo: from a file, pasted, or dropped. Its bytes are sent and nothing else, not even its name.

/** The photos that were given and not yet recorded, as data addresses, by what they are for. */
const photosGiven = new Map();
/** Those among them that came from a phone: they are on the machine already. */
const photosFromPhone = new Map();
const notesFromPhone = new Set();

const isFromPhone = (name) =>
  photosFromPhone.has(name) && photosFromPhone.get(name) === photosGiven.get(name);

function takePhoto(part, name) {
  const file = part.querySelector("input[type=file]");
  const refused = part.querySelector(".refused");
  const shown = part.querySelector(".shown");

  function show(address) {
    if (address === "") {
      photosGiven.delete(name);
      file.value = "";
      shown.replaceChildren();
      return;
    }
    photosGiven.set(name, address);
    const picture = document.createElement("img");
    picture.src = address;
    picture.alt = "The photo as it was given";
    const remove = pressed("Take the photo out", () => {
      show("");
      file.focus();
    });
    shown.replaceChildren(picture, made("p", "buttons", remove));
  }

  function take(given) {
    refused.textContent = "";
    if (given.size > Number(part.dataset.largest)) {
      show("");
      refused.textContent = part.dataset.tooLarge;
      return;
    }
    const reader = new FileReader();
    reader.addEventListener("load", () => show(reader.result));
    reader.readAsDataURL(given);
  }

  function takeFrom(event, transfer) {
    const [given] = transfer?.files || [];
    if (given) {
      event.preventDefault();
      take(given);
    }
  }

  function paste(event) {
    if (part.isConnected) {
      takeFrom(event, event.clipboardData);
    } else {
      document.removeEventListener("paste", paste);
    }
  }

  file.addEventListener("change", () => file.files[0] && take(file.files[0]));
  part.addEventListener("dragover", (event) => event.preventDefault());
  part.addEventListener("drop", (event) => takeFrom(event, event.dataTransfer));
  document.addEventListener("paste", paste);
  if (photosGiven.has(name)) {
    show(photosGiven.get(name));
  }
}

/** The bytes of the photo that was given, as base64; empty without one. */
function photoBytes(name) {
  if (isFromPhone(name)) {
    return "";
  }
  const address = photosGiven.get(name) || "";
  return address.slice(address.indexOf(",") + 1);
}
