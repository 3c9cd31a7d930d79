// Try a correction: pick a line, then a kind of change; move the amount; record it, or do not.

const WORKING = "Working it out …";
let trialAtHand = null;

class Trial {
  constructor(part) {
    this.part = part;
    this.node = part.dataset.node;
    this.form = part.querySelector(".trying");
    this.line = this.form.elements.line;
    this.kind = this.form.elements.kind;
    this.controls = part.querySelector(".controls");
    this.refused = part.querySelector(".refused");
    this.keeping = part.querySelector(".keeping");
    this.recording = part.querySelector(".record");
    this.command = part.querySelector(".keeping code");
    this.rail = new Rail(part.querySelector(".rail"));
    this.asking = new AbortController();
    this.number = 0;
    this.picks = 0;
    this.version = "";
    this.near = null;
    this.line.addEventListener("change", () => this.pick(this.line.value));
    this.kind.addEventListener("change", () => this.choose(this.kind.value));
    this.form.addEventListener("submit", (event) => event.preventDefault());
    this.recording.addEventListener("click", () => this.record());
    this.form.elements.why.addEventListener("input", () => this.tellCommand());
    part.querySelector(".mends")?.addEventListener("change", () => this.tellCommand());
    this.makePickable();
  }

  makePickable() {
    const pictured = this.part.querySelector(".pick");
    for (const option of Array.from(this.line.options).filter((each) => each.value)) {
      for (const line of linesNamed(pictured, option.value)) {
        const wide = line.cloneNode();
        wide.removeAttribute("id");
        wide.setAttribute("class", "touch");
        line.after(wide);
        wide.addEventListener("click", () => this.pick(option.value));
      }
    }
  }

  async pick(line) {
    const before = this.kind.value;
    const number = ++this.picks;
    this.line.value = line;
    this.mark(line);
    this.rest("Choose a change to see it.");
    history.replaceState(history.state, "", `#/try/${this.node}${line ? `/${line}` : ""}`);
    // What another line was offered is not for this one.
    this.kind.disabled = true;
    this.kind.replaceChildren(firstOption(line ? WORKING : "Pick a line first"));
    if (line === "") {
      return;
    }
    const { kinds } = await this.answered("kinds", { node: this.node, line });
    if (number !== this.picks) {
      return; // picked again meanwhile
    }
    const meant = kinds.filter(([, , isMeant]) => isMeant);
    const others = kinds.filter(([, , isMeant]) => !isMeant);
    this.kind.disabled = false;
    this.kind.replaceChildren(
      firstOption("Choose a change"),
      ...group("Made for this line", meant),
      ...group("Also change this line", others),
    );
    this.kind.value = kinds.some(([name]) => name === before) ? before : "";
    this.choose(this.kind.value);
  }

  mark(line) {
    const pictured = this.part.querySelector(".pick");
    pictured.querySelectorAll(".marked").forEach((each) => each.classList.remove("marked"));
    if (line) {
      linesNamed(pictured, line).forEach((each) => each.classList.add("marked"));
    }
  }

  async choose(kind) {
    this.rest("Choose a change to see it.");
    if (kind === "") {
      return;
    }
    const number = this.number;
    const line = this.line.value;
    const { html } = await this.answered("form", { node: this.node, line, kind });
    if (number !== this.number) {
      return; // another was picked or chosen meanwhile
    }
    this.controls.innerHTML = html;
    for (const control of this.controls.querySelectorAll(".control")) {
      if (control.querySelector(".slide")) {
        keepTogether(control, (moved) => this.moved(moved));
      } else {
        control.addEventListener("input", () => this.moved(null));
      }
    }
    this.keeping.hidden = false;
    this.moved(this.controls.querySelector("[data-needed] .slide")?.closest(".control") || null);
  }

  /** Show nothing of a change. */
  rest(words) {
    this.stop();
    this.controls.replaceChildren();
    this.keeping.hidden = true;
    this.refused.textContent = "";
    this.rail.clear(words);
  }

  /** Give up what is asked for: nothing of it is shown any more. */
  stop() {
    this.asking.abort();
    this.asking = new AbortController();
    this.number += 1;
    this.version = "";
    this.recording.setAttribute("aria-disabled", "true");
  }

  /** Try it as it is written now; `control` is the one that was moved. */
  moved(control) {
    this.stop();
    this.near = control;
    this.refused.textContent = "";
    this.rail.forget(WORKING);
    const number = this.number;
    // However fast it is moved, it is tried no more often than it is drawn.
    requestAnimationFrame(() => number === this.number && this.preview(number));
  }

  async preview(number) {
    this.tellCommand();
    const told = { correction: this.correction(), near: this.valuesNear() };
    let version = "";
    try {
      for await (const line of linesOf("preview", told, { signal: this.asking.signal })) {
        if (number !== this.number) {
          return;
        }
        version = line.version || version;
        this.take(line, version);
      }
    } catch (error) {
      if (number === this.number && error.name !== "AbortError") {
        this.refuse(error);
      }
    }
  }

  take(line, version) {
    if (line.below) {
      this.rail.expect(line.below);
    } else if (line.row !== undefined) {
      this.rail.tell(line.row, line.rank, line.html);
    } else if (line.own !== undefined) {
      this.rail.tally.textContent = line.tally;
      this.rail.own.innerHTML = line.own;
      // All is said that is to be known before it is recorded; pictures follow.
      this.version = version;
      this.recording.setAttribute("aria-disabled", "false");
    } else if (line.picture !== undefined) {
      this.rail.show(line.picture, line.html);
    }
  }

  refuse(error) {
    this.stop();
    this.rail.clear("");
    this.refused.textContent = error instanceof Refused ? error.message : STOPPED;
  }

  async answered(action, told) {
    try {
      return await answerTo(action, told);
    } catch (error) {
      this.refuse(error);
      throw error;
    }
  }

  values() {
    const found = {};
    for (const control of this.controls.querySelectorAll(".control")) {
      const { name, default: usual, needed } = control.dataset;
      const flag = control.querySelector("input[type=checkbox]");
      const text = flag ? "" : control.querySelector("select, input[type=text]").value.trim();
      if (flag ? flag.checked : text !== "" && (needed !== undefined || text !== usual)) {
        found[name] = flag ? true : text;
      }
    }
    return found;
  }

  valuesNear() {
    if (!this.near) {
      return [];
    }
    const values = this.values();
    return lengthsNear(this.near).map((each) => ({ ...values, [this.near.dataset.name]: each }));
  }

  correction(more = {}) {
    return { node: this.node, kind: this.kind.value, values: this.values(), ...more };
  }

  whole() {
    const chosen = this.form.querySelectorAll("input[name=mends]:checked");
    return this.correction({
      why: this.form.elements.why.value.trim(),
      mends: Array.from(chosen, (each) => each.value),
    });
  }

  async tellCommand() {
    const asked = this.whole();
    try {
      const { command } = await answerTo("command", asked);
      if (JSON.stringify(asked) === JSON.stringify(this.whole())) {
        this.command.textContent = command;
      }
    } catch {
      this.command.textContent = ""; // the trial says what is the matter
    }
  }

  async record() {
    if (this.recording.getAttribute("aria-disabled") === "true") {
      return;
    }
    const told = { correction: this.whole(), version: this.version };
    this.recording.setAttribute("aria-disabled", "true");
    try {
      const answer = await answerTo("record", told);
      if (answer.moved) {
        this.moved(this.near);
        this.refused.textContent = `${answer.moved} This is worked out anew; record it then.`;
      } else {
        await tellStep(answer, becameOf(answer));
      }
    } catch (error) {
      this.refuse(error);
    }
  }
}

function firstOption(words) {
  const first = document.createElement("option");
  first.value = "";
  first.textContent = words;
  return first;
}

function group(label, kinds) {
  if (!kinds.length) {
    return [];
  }
  const made = document.createElement("optgroup");
  made.label = label;
  for (const [name, says] of kinds) {
    const option = document.createElement("option");
    option.value = name;
    option.textContent = name.replaceAll("-", " ");
    option.title = says;
    made.append(option);
  }
  return [made];
}

function becameOf(answer) {
  const way = made("a", "", "What became of it");
  way.href = `#/correction/${answer.recorded.slice(0, 10)}`;
  return way;
}

whenShown.push([
  ".trial",
  (part) => {
    trialAtHand?.stop();
    trialAtHand = new Trial(part);
    const { place } = addressNow();
    if (place) {
      trialAtHand.pick(place).catch(() => null);
    }
  },
]);

// Whoever leaves the page wants no more of its answers.
addEventListener("hashchange", () => trialAtHand?.stop());
whenMoved.push(() => {
  if (trialAtHand?.part.isConnected && !trialAtHand.keeping.hidden) {
    trialAtHand.moved(trialAtHand.near);
  }
});
