// A form that is asked for: a way to open it, and room for its fields, which the program tells.

class AskedForm {
  /**
   * `about` is what its fields are asked for, and told with what `told` reads of them; `prepare`
   * makes what was fetched ready, `forget` is done once it was recorded or left; `foretold` gives
   * what is told to have said what it would do; where that is nothing `rest` is said; `also` makes
   * what is shown of what else is said. `arrange` is given the fields before they are filled in.
   */
  constructor(how) {
    const { words, record, action, about, told, more = [] } = how;
    this.action = action;
    this.about = about;
    this.name = `${action} ${Object.values(about).join(" ")}`;
    this.record = record;
    this.told = told;
    this.prepare = how.prepare || (() => null);
    this.arrange = how.arrange || (() => null);
    this.forget = how.forget || (() => null);
    this.foretold = how.foretold;
    this.also = how.also;
    this.rest = how.rest;
    this.more = more;
    this.form = null;
    this.refused = made("p", "refused");
    this.refused.setAttribute("role", "alert");
    this.way = pressed(words, () => this.open(), action);
    this.way.setAttribute("aria-expanded", "false");
    this.room = made("div", "", this.refused);
    if (askedAgain.has(this.name)) {
      this.open();
    }
  }

  async open() {
    if (this.form) {
      return;
    }
    this.refused.textContent = "";
    try {
      const { html } = await answerTo(`${this.action}-form`, this.about);
      const fields = fromHtml(html);
      this.arrange(fields, askedAgain.get(this.name));
      const foretelling = this.foretold && this.foretelling();
      this.form = stepForm({
        action: this.action,
        name: this.name,
        record: this.record,
        fields: [fields, ...this.more.map((each) => each())],
        told: (form) => ({ ...this.about, ...this.told(form.elements) }),
        done: () => this.forget(this.name),
        leave: () => this.close(),
        foretelling,
      });
      this.room.append(this.form);
      this.way.setAttribute("aria-expanded", "true");
      this.prepare(this.form, this.name);
      foretelling?.follow(this.form);
      this.form.elements[0].focus();
    } catch (error) {
      this.refused.textContent = error instanceof Refused ? error.message : STOPPED;
    }
  }

  foretelling() {
    return new Foretelling({
      action: `${this.action}-preview`,
      rest: this.rest,
      also: this.also,
      told: (elements) => {
        const found = this.foretold(elements);
        return found && { ...this.about, ...found };
      },
    });
  }

  close() {
    this.forget(this.name);
    this.form.remove();
    this.form = null;
    this.way.setAttribute("aria-expanded", "false");
    this.way.focus();
  }
}
