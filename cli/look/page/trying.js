// Try a change: pick a line, then a kind of change; move the amount; record it, or do not.

let trialAtHand = null;

class Trial {
  constructor(part) {
    this.part = part;
    this.node = part.dataset.node;
    this.address = part.dataset.address;
    this.isStyle = part.dataset.style !== undefined;
    this.form = part.querySelector(".trying");
    this.line = this.form.elements.line;
    this.kind = this.form.elements.kind;
    this.controls = part.querySelector(".controls");
    this.refused = part.querySelector(".refused");
    this.keeping = part.querySelector(".keeping");
    this.recording = part.querySelector(".record");
    this.command = part.querySelector(".keeping code");
    this.picks = 0;
    this.near = null;
    this.previewing = new Previewing(part.querySelector(".rail"), {
      action: "preview",
      refused: this.refused,
      told: () => ({ change: this.change(), near: this.valuesNear() }),
      ready: (isReady) => this.recording.setAttribute("aria-disabled", String(!isReady)),
    });
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
    history.replaceState(history.state, "", `#/${this.address}${line ? `/${line}` : ""}`);
    // What another line was offered is not for this one.
    this.kind.disabled = true;
    this.kind.replaceChildren(firstOption(WORKING));
    const { groups } = await this.answered("kinds", { node: this.node, line });
    if (number !== this.picks) {
      return; // picked again meanwhile
    }
    this.kind.disabled = false;
    this.kind.replaceChildren(firstOption("Choose a change"), ...groups.map(group));
    this.kind.value = Array.from(this.kind.options).some((each) => each.value === before)
      ? before
      : "";
    this.choose(this.kind.value);
  }

  mark(line) {
    const pictured = this.part.querySelector(".pick");
    pictured.querySelectorAll(".marked").forEach((each) => each.classList.remove("marked"));
    const lines = line ? linesNamed(pictured, line) : [];
    lines.forEach((each) => each.classList.add("marked"));
    if (lines.length) {
      showBeside(pictured.querySelector(".picture"), lines[0].closest("svg"));
    }
  }

  async choose(kind) {
    this.rest("Choose a change to see it.");
    if (kind === "") {
      return;
    }
    const number = this.previewing.number;
    const line = this.line.value;
    const { html } = await this.answered("form", { node: this.node, line, kind });
    if (number !== this.previewing.number) {
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
    this.controls.replaceChildren();
    this.keeping.hidden = true;
    this.previewing.rest(words);
  }

  /** Try it as it is written now; `control` is the one that was moved. */
  moved(control) {
    this.near = control;
    this.previewing.moved();
    const { number } = this.previewing;
    requestAnimationFrame(() => number === this.previewing.number && this.tellCommand());
  }

  refuse(error) {
    this.previewing.refuse(error);
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

  change(more = {}) {
    const about = { node: this.node, kind: this.kind.value, is_style: this.isStyle };
    return { ...about, values: this.values(), ...more };
  }

  whole() {
    const chosen = this.form.querySelectorAll("input[name=mends]:checked");
    return this.change({
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
    const told = { change: this.whole(), version: this.previewing.version };
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

/** Move pieces that lie beside each other so far that one of them is seen. */
function showBeside(pieces, piece) {
  const [room, seen] = [pieces.getBoundingClientRect(), piece.getBoundingClientRect()];
  if (seen.left < room.left || seen.right > room.right) {
    pieces.scrollBy({ left: seen.left - room.left });
  }
}

function firstOption(words) {
  const first = document.createElement("option");
  first.value = "";
  first.textContent = words;
  return first;
}

function group([label, kinds]) {
  const made = document.createElement("optgroup");
  made.label = label;
  for (const [name, says] of kinds) {
    const option = document.createElement("option");
    option.value = name;
    option.textContent = name.replaceAll("-", " ");
    option.title = says;
    made.append(option);
  }
  return made;
}

function becameOf(answer) {
  const way = made("a", "", "What became of it");
  way.href = `#/correction/${answer.recorded.slice(0, 10)}`;
  return way;
}

whenShown.push([
  ".trial",
  (part) => {
    trialAtHand?.previewing.stop();
    trialAtHand = new Trial(part);
    trialAtHand.pick(addressNow().place).catch(() => null);
  },
]);
