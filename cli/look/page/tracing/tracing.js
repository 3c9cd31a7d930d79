// Make a block of a drawing: point at a line, and say what it is; the program looks it over each time.

class Tracing {
  constructor(part) {
    this.part = part;
    this.choosing = part.querySelector(".choosing");
    this.naming = part.querySelector(".naming");
    this.file = null;
    this.said = [];
    this.looked = null;
    this.number = 0;
    this.changing = Promise.resolve();
    this.isTouched = false;
    this.naming.addEventListener("input", () => (this.isTouched = true));
    this.choosing.addEventListener("submit", (event) => this.choose(event));
    this.naming.addEventListener("submit", (event) => this.say(event));
    this.naming.elements.line.addEventListener("change", () => this.show());
    this.back = part.querySelector(".back");
    this.back.addEventListener("click", () => this.takeBack());
    part.querySelector(".keep").addEventListener("click", () => this.keep());
    this.recording = stepForm({
      action: "trace",
      name: "trace",
      record: "Record this block",
      onLatest: true,
      fields: [labelled("What the block is to be called", this.nameField())],
      told: ({ elements }) => ({
        ...this.drawing(this.said),
        content: this.file.content,
        node: elements.node.value.trim(),
        text: this.said.length || !this.looked.names_itself ? this.looked.text : "",
      }),
    });
    part.querySelector(".recorded-as").append(this.recording);
  }

  nameField() {
    const field = named("input", "node");
    field.required = true;
    return field;
  }

  async choose(event) {
    event.preventDefault();
    const refused = this.choosing.querySelector(".refused");
    refused.textContent = "";
    this.part.querySelector(".traced").hidden = true;
    const [file] = this.choosing.elements.file.files;
    if (file.size > Number(this.part.dataset.largest)) {
      refused.textContent = this.part.dataset.tooLarge;
      return;
    }
    this.said = [];
    this.looked = null;
    try {
      this.file = { name: file.name, content: await base64Of(file) };
      this.tell(await this.look([]));
    } catch (error) {
      refused.textContent = error instanceof Refused ? error.message : STOPPED;
    }
  }

  /** The drawing as the program knows it, with all that is said of its lines. */
  drawing(said) {
    const { measures, strip, over } = this.choosing.elements;
    const told = {
      source: this.file.name,
      known: this.looked ? this.looked.known : "",
      names: {},
      folds: {},
      seams: [],
      measures: said.reduce(measuredAs, measures.value.trim()),
      strip: strip.value.trim(),
      over: over.value === "" ? null : over.value === "over",
    };
    for (const each of said) {
      Object.assign(told.names, each.names);
      Object.assign(told.folds, each.folds);
      told.seams.push(...each.seams);
    }
    return told;
  }

  async look(said) {
    const told = this.drawing(said);
    const found = told.known && (await answerTo("trace-look", told));
    if (found && !found.again) {
      return found;
    }
    return answerTo("trace-look", { ...told, content: this.file.content });
  }

  tell(looked) {
    this.looked = looked;
    this.part.querySelector(".traced").hidden = false;
    const pictured = this.part.querySelector(".picked-drawing");
    pictured.innerHTML = looked.picture;
    this.part.querySelector(".tables div").innerHTML = looked.html;
    this.part.querySelector(".itself").hidden = !looked.names_itself || this.said.length > 0;
    this.part.querySelector(".yet").textContent =
      looked.refused_yet || "As it stands it can be recorded.";
    this.part
      .querySelector(".missing")
      .replaceChildren(...looked.missing.map((each) => made("li", "", each)));
    const { line } = this.naming.elements;
    const before = line.value;
    line.replaceChildren(...looked.lines.map(lineOption));
    line.value = looked.lines.some(([number]) => number === before) ? before : looked.lines[0][0];
    document.getElementById("trace-edges").replaceChildren(
      ...looked.edges.map((each) => {
        const option = document.createElement("option");
        option.value = each;
        return option;
      }),
    );
    this.back.setAttribute("aria-disabled", String(this.said.length === 0));
    this.makePickable(pictured);
    this.mark();
    // What is being written is left as it is.
    if (!this.isTouched) {
      this.show();
    }
  }

  makePickable(pictured) {
    for (const [number] of this.looked.lines) {
      for (const line of drawnLines(pictured, number)) {
        const wide = line.cloneNode();
        wide.removeAttribute("id");
        wide.setAttribute("class", "touch");
        line.after(wide);
        wide.addEventListener("click", () => {
          this.naming.elements.line.value = number;
          this.show();
        });
      }
    }
  }

  /** Show what is said of the line that is chosen. */
  show() {
    const { line, name, fold, mate, seam, ease } = this.naming.elements;
    const [, taken, , isFold] = this.looked.lines.find(([each]) => each === line.value);
    const sewn = this.looked.seams.find(([, ...sides]) => sides.some((s) => s.includes(taken)));
    this.naming.querySelector(".refused").textContent = "";
    name.value = taken;
    fold.checked = isFold;
    mate.value = sewn ? (sewn[1].includes(taken) ? sewn[2] : sewn[1]).join(" + ") : "";
    seam.value = sewn ? sewn[0] : "";
    ease.value = "";
    this.isTouched = false;
    this.mark();
  }

  mark() {
    const pictured = this.part.querySelector(".picked-drawing");
    const chosen = this.naming.elements.line.value;
    pictured.querySelectorAll(".marked").forEach((each) => each.classList.remove("marked"));
    drawnLines(pictured, chosen).forEach((each) => each.classList.add("marked"));
  }

  say(event) {
    event.preventDefault();
    const { line, name, fold, mate, seam, ease } = this.naming.elements;
    const [number, taken, , isFold] = this.looked.lines.find(([each]) => each === line.value);
    const called = name.value.trim();
    const [piece, edge] = called.split(".");
    const sewn = this.looked.seams.find(([, ...sides]) => sides.some((s) => s.includes(taken)));
    const before = sewn ? (sewn[1].includes(taken) ? sewn[2] : sewn[1]).join(" + ") : "";
    const to = mate.value.trim();
    const isSewnAnew = to !== before || ease.value.trim() || (sewn && seam.value.trim() !== sewn[0]);
    const said = {
      was: taken,
      now: called,
      names: called === taken ? {} : { [number]: called },
      folds: fold.checked === isFold ? {} : { [piece]: fold.checked ? edge : "" },
      seams: isSewnAnew
        ? [{ side: called, mate: to, name: seam.value.trim() || `${edge}-seam`, ease: ease.value }]
        : [],
    };
    this.change((before) => [...before, said]);
  }

  takeBack() {
    this.change((before) => before.slice(0, -1));
  }

  /** Say something else of the lines, one thing after the other, and look it over with that. */
  change(how) {
    this.part.setAttribute("aria-busy", "true");
    const number = ++this.number;
    this.isTouched = false;
    this.changing = this.changing.then(async () => {
      await this.changeNow(how(this.said));
      this.part.setAttribute("aria-busy", String(number !== this.number));
    });
  }

  async changeNow(said) {
    const refused = this.naming.querySelector(".refused");
    refused.textContent = "";
    try {
      const looked = await this.look(said);
      this.said = said;
      this.tell(looked);
    } catch (error) {
      refused.textContent = error instanceof Refused ? error.message : STOPPED;
    }
  }

  keep() {
    const node = this.recording.elements.node.value.trim() || "block";
    handOver(`${node}-names.toml`, this.looked.text, "application/toml");
  }
}

/** What was measured on paper, told by the names that lines have once something is said of them. */
function measuredAs(measures, { was, now }) {
  const [pieceBefore, pieceNow] = [was, now].map((each) => each.split(".")[0]);
  return measures
    .split(",")
    .map((each) => {
      const [line, ...length] = each.trim().split("=");
      const called = line.startsWith(`${pieceBefore}.`)
        ? `${pieceNow}${line.slice(pieceBefore.length)}`
        : line;
      return [line === was ? now : called, ...length].join("=");
    })
    .join(", ");
}

function drawnLines(pictured, number) {
  return Array.from(pictured.querySelectorAll(`path[id$=".line-${number}"]`));
}

function lineOption([number, taken, length, isFold]) {
  const option = document.createElement("option");
  option.value = number;
  option.textContent = `${number}: ${taken || "no name"}${isFold ? " (fold)" : ""}, ${length}`;
  return option;
}

async function base64Of(file) {
  const read = new FileReader();
  const done = new Promise((resolve, reject) => {
    read.addEventListener("load", resolve);
    read.addEventListener("error", () => reject(new Refused("That file could not be read.")));
  });
  read.readAsDataURL(file);
  await done;
  return read.result.slice(read.result.indexOf(",") + 1);
}

function offerTracing(heading) {
  if (addressNow().address !== "start") {
    return;
  }
  const way = made("a", "", "Make a block of a drawing");
  way.href = "#/trace";
  heading.after(made("p", "offer", way));
}

whenShown.push(["h1", offerTracing], [".tracing", (part) => new Tracing(part)]);
