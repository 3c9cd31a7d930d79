// Asking for what writes nothing: its fields are opened, and what is told stands beneath them.

class ReadForm {
  /**
   * `fields` gives the fields once they are wanted, `told` what the action is told of them;
   * `show` makes what is shown of the answer.
   */
  constructor({ words, action, button, fields, told, show }) {
    this.action = action;
    this.told = told;
    this.show = show;
    this.fields = fields;
    this.button = button;
    this.form = null;
    this.refused = made("p", "refused");
    this.refused.setAttribute("role", "alert");
    this.answer = made("div", "answer");
    this.answer.setAttribute("role", "status");
    this.way = pressed(words, () => this.turn(), action);
    this.way.setAttribute("aria-expanded", "false");
    this.room = made("div", "");
  }

  async turn() {
    if (this.form) {
      this.form.hidden = !this.form.hidden;
    } else {
      await this.open();
    }
    const isShown = this.form !== null && !this.form.hidden;
    this.way.setAttribute("aria-expanded", String(isShown));
    if (isShown) {
      this.form.elements[0].focus();
    }
  }

  async open() {
    try {
      const fields = await this.fields();
      const buttons = made("p", "buttons", made("button", "", this.button));
      this.form = made("form", "step", fields, this.refused, buttons, this.answer);
      this.form.autocomplete = "off";
      this.form.addEventListener("submit", (event) => this.ask(event));
      this.room.append(this.form);
    } catch (error) {
      this.refused.textContent = error instanceof Refused ? error.message : STOPPED;
      this.room.append(this.refused);
    }
  }

  async ask(event) {
    event.preventDefault();
    this.refused.textContent = "";
    this.answer.replaceChildren();
    try {
      const answer = await answerTo(this.action, await this.told(this.form.elements));
      this.answer.replaceChildren(...this.show(answer), ...sameByCommand(answer.command));
    } catch (error) {
      this.refused.textContent = error instanceof Refused ? error.message : STOPPED;
    }
  }
}

function sameByCommand(words) {
  const command = made("pre", "command", made("code", "", words));
  command.tabIndex = 0;
  return [made("p", "small", "The same by command:"), command];
}

/** What the program made as HTML. */
function fromHtml(html) {
  const found = document.createElement("template");
  found.innerHTML = html;
  return found.content;
}

/** Hand a file over to be saved where the maker says. */
function handOver(name, content, type) {
  const link = document.createElement("a");
  link.href = URL.createObjectURL(new Blob([content], { type }));
  link.download = name;
  document.body.append(link);
  link.click();
  link.remove();
  setTimeout(() => URL.revokeObjectURL(link.href), 60000);
}
