// What a step would do, beneath the form that asks for it: it is recorded once that was said.

class Foretelling {
  /**
   * `told` gives what the action is told of the fields; null where nothing is written yet. `also`
   * makes what is shown of a line that says something else.
   */
  constructor({ action, told, rest, also }) {
    this.also = also;
    this.action = action;
    this.told = told;
    this.rest = rest;
    this.previewing = null;
    this.part = made(
      "section",
      "rail",
      made("h2", "", "What would become of it"),
      made("div", "also"),
      made("p", "tally", rest),
      made("div", "own"),
      made("ol", "became rows"),
    );
    this.part.querySelector(".tally").setAttribute("role", "status");
  }

  /** Say it of a form, now and whenever something else is written into it than its reason. */
  follow(form) {
    const button = form.querySelector(".record");
    this.previewing = new Previewing(this.part, {
      action: this.action,
      refused: form.querySelector(".refused"),
      told: () => this.told(form.elements),
      also: (line) => this.part.querySelector(".also").replaceChildren(...this.also(line)),
      ready: (isReady) => button.setAttribute("aria-disabled", String(!isReady)),
    });
    const moved = () => {
      this.part.querySelector(".also").replaceChildren();
      if (this.told(form.elements) === null) {
        this.previewing.rest(this.rest);
        // What is recorded of nothing is for the program to say.
        button.setAttribute("aria-disabled", "false");
      } else {
        this.previewing.moved();
      }
    };
    form.addEventListener("input", ({ target }) => target.name !== "why" && moved());
    moved();
  }

  /** The version it was said on; empty where nothing is said. */
  get version() {
    return this.previewing?.version || "";
  }
}

whenMoved.push((now) => {
  for (const words of document.querySelectorAll(".foretold .stands-on")) {
    words.textContent = `On the wardrobe as it is now: ${now.stands}.`;
  }
});
