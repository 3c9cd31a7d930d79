// A form that is asked for: a way to open it, and room for its fields, which the program tells.

class AskedForm {
  /**
   * `about` is what its fields are asked for, and told with what `told` reads of them; `prepare`
   * makes what was fetched ready, `forget` is done once it was recorded or left.
   */
  constructor({ words, record, action, about, told, prepare, forget, more = [] }) {
    this.action = action;
    this.about = about;
    this.name = `${action} ${Object.values(about).join(" ")}`;
    this.record = record;
    this.told = told;
    this.prepare = prepare || (() => null);
    this.forget = forget || (() => null);
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
      const fields = document.createElement("template");
      fields.innerHTML = html;
      this.form = stepForm({
        action: this.action,
        name: this.name,
        record: this.record,
        fields: [fields.content, ...this.more.map((each) => each())],
        told: (form) => ({ ...this.about, ...this.told(form.elements) }),
        done: () => this.forget(this.name),
        leave: () => this.close(),
      });
      this.room.append(this.form);
      this.way.setAttribute("aria-expanded", "true");
      this.prepare(this.form, this.name);
      this.form.elements[0].focus();
    } catch (error) {
      this.refused.textContent = error instanceof Refused ? error.message : STOPPED;
    }
  }

  close() {
    this.forget(this.name);
    this.form.remove();
    this.form = null;
    this.way.setAttribute("aria-expanded", "false");
    this.way.focus();
  }
}
