// Asking: every question bears the token that stood behind the # of the address this page was
// opened by, or that was given for the ticket it was opened with. It is kept for this window alone,
// and taken out of the address.

const ENTRANCE = /^#token=([\w-]{40,})(?:\/(.*))?$/;
const entered = ENTRANCE.exec(location.hash);
if (entered) {
  sessionStorage.setItem("token", entered[1]);
  history.replaceState(null, "", `#/${entered[2] || "start"}`);
}
let token = sessionStorage.getItem("token") || "";
const thisPage = Array.from(crypto.getRandomValues(new Uint8Array(8)), (each) =>
  each.toString(16).padStart(2, "0"),
).join("");
const STOPPED = "The live page has stopped; run trueup look again, and open the address it gives.";
const NO_TOKEN =
  "This window was not opened by the address that trueup look gave; open that address in it.";

/** What could not be done, in one sentence. */
class Refused extends Error {}

const TICKET = /^\/([\w-]{40,})$/.exec(location.pathname);
const isEntered = TICKET ? enter(TICKET[1]) : Promise.resolve();

/** Give the ticket for the token: it is worth nothing afterwards, wherever it is kept. */
async function enter(ticket) {
  try {
    token = (await (await posted("enter", {}, ticket)).json()).token;
    sessionStorage.setItem("token", token);
  } catch {
    token = "";
  }
  history.replaceState(null, "", "/#/start");
}

function posted(action, told, bearing, how = {}) {
  return fetch(`/${action}`, {
    method: "POST",
    headers: {
      "Content-Type": "application/json",
      "Trueup-Token": bearing,
      "Trueup-Page": thisPage,
    },
    body: JSON.stringify(told),
    cache: "no-store",
    credentials: "omit",
    redirect: "error",
    referrerPolicy: "no-referrer",
    ...how,
  });
}

/** Ask, and return what comes; `how` may hold a signal to give it up, or keepalive. */
async function asked(action, told, how = {}) {
  await isEntered;
  if (token === "") {
    throw new Refused(NO_TOKEN);
  }
  let response;
  try {
    response = await posted(action, told, token, how);
  } catch (error) {
    if (error.name === "AbortError") {
      throw error;
    }
    throw new Refused(STOPPED);
  }
  if (!response.ok) {
    throw new Refused(response.status === 403 ? STOPPED : await response.text());
  }
  return response;
}

function lineRead(line) {
  const made = JSON.parse(line);
  if (made.refused !== undefined) {
    throw new Refused(made.refused);
  }
  return made;
}

/** Ask, and yield the lines of the answer as they come. */
async function* linesOf(action, told, how = {}) {
  const response = await asked(action, told, how);
  const reader = response.body.pipeThrough(new TextDecoderStream()).getReader();
  let left = "";
  try {
    for (;;) {
      const { done, value } = await reader.read();
      if (done) {
        return;
      }
      const lines = (left + value).split("\n");
      left = lines.pop();
      for (const line of lines) {
        yield lineRead(line);
      }
    }
  } finally {
    reader.cancel().catch(() => null);
  }
}

/** Ask for what is answered in one line. */
async function answerTo(action, told, how = {}) {
  const text = await (await asked(action, told, how)).text();
  if (text === "") {
    throw new Refused(STOPPED);
  }
  return lineRead(text.split("\n", 1)[0]);
}
