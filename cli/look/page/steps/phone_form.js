// The form on a phone: it sends one note. The token stands behind the # of the address, in the code.

const entrance = /^#token=([\w-]{40,})\/(.+)$/.exec(location.hash);
const token = entrance ? entrance[1] : "";
const form = document.querySelector("form");
const refused = document.querySelector(".refused");
const came = document.querySelector(".came");
const button = form.querySelector("button");

if (entrance) {
  document.querySelector(".of").textContent = ` on ${decodeURIComponent(entrance[2])}`;
}

function bytesOf(file) {
  return new Promise((resolve, reject) => {
    const reader = new FileReader();
    reader.addEventListener("load", () => resolve(reader.result.split(",")[1] || ""));
    reader.addEventListener("error", () => reject(reader.error));
    reader.readAsDataURL(file);
  });
}

async function send() {
  const { symptom, where, amount, words, photo } = form.elements;
  const [file] = photo.files;
  if (file && file.size > Number(form.dataset.largest)) {
    return "The photo is larger than 20 MB; choose a smaller one.";
  }
  const response = await fetch("/note", {
    method: "POST",
    headers: { "Content-Type": "application/json", "Trueup-Token": token },
    body: JSON.stringify({
      symptom: symptom.value,
      where: where.value.trim(),
      amount: amount.value.trim(),
      words: words.value.trim(),
      photo: file ? await bytesOf(file) : "",
    }),
    cache: "no-store",
    credentials: "omit",
    redirect: "error",
    referrerPolicy: "no-referrer",
  });
  return response.ok ? "" : await response.text();
}

form.addEventListener("submit", async (event) => {
  event.preventDefault();
  if (button.getAttribute("aria-disabled") === "true") {
    return;
  }
  refused.textContent = "";
  button.setAttribute("aria-disabled", "true");
  try {
    refused.textContent = await send();
  } catch {
    refused.textContent = "The machine does not answer: the form is closed, or it is out of reach.";
  }
  if (refused.textContent === "") {
    form.hidden = true;
    came.textContent = "It came. Confirm it on the machine: only then is it recorded.";
  } else {
    button.removeAttribute("aria-disabled");
  }
});
