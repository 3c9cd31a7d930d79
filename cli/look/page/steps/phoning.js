// What a phone may send for the garment of this page: where its form is, and the note that came.

const PHONE_LOOKS = 1500; // milliseconds between two looks whether a note came

class PhoneDoor {
  constructor(part, noting) {
    this.part = part;
    this.noting = noting;
    this.state = "";
  }

  async look() {
    if (!this.part.isConnected) {
      return;
    }
    let told = null;
    try {
      told = await answerTo("phone", this.noting.about);
    } catch {
      // What follows the wardrobe says that the live page has stopped.
    }
    if (told?.none) {
      return;
    }
    if (told) {
      this.tell(told);
    }
    if (told?.state !== "over") {
      setTimeout(() => this.look(), PHONE_LOOKS);
    }
  }

  tell(told) {
    if (told.state !== this.state) {
      this.state = told.state;
      this[told.state](told);
    }
    const left = this.part.querySelector(".left");
    if (left) {
      left.textContent = `${told.minutes} ${told.minutes === 1 ? "minute" : "minutes"}`;
    }
  }

  open(told) {
    const code = document.createElement("template");
    code.innerHTML = told.code;
    const address = made("pre", "command", made("code", "", told.address));
    address.tabIndex = 0;
    this.show(
      made("p", "", "Photograph this code with a phone in the same network: it opens a form for one note on this garment, for ", made("span", "left"), "."),
      made("p", "", "The local network is not encrypted: whoever is in it could read the note and see its photo on their way. Nothing of the wardrobe can be read there, and nothing is recorded until you confirm it here."),
      code.content,
      address,
    );
  }

  waiting(told) {
    const words = [
      told.symptom,
      told.where && `where: ${told.where}`,
      told.amount && `how much: ${told.amount}`,
      told.words && `“${told.words}”`,
    ];
    const over = pressed("Look it over and choose its place", () => this.fillIn(told));
    const came = made("p", "", `A note came from the phone. ${words.filter(Boolean).join("; ")}`);
    this.show(came, made("p", "", "It is not recorded yet."), made("p", "buttons", over));
  }

  over() {
    this.show(made("p", "", "The form for the phone is closed. To open another, run trueup look --phone again."));
  }

  show(...parts) {
    const heading = made("h2", "", "From a phone");
    this.part.replaceChildren(heading, ...parts);
    this.part.className = "from-phone";
  }

  fillIn({ symptom, amount, words, photo }) {
    const { name, form } = this.noting;
    const told = Object.entries({ symptom, amount, words });
    const values = told.map(([field, value]) => ({ name: field, value }));
    if (photo) {
      photosGiven.set(name, photo);
      photosFromPhone.set(name, photo);
    }
    notesFromPhone.add(name);
    if (form) {
      form.remove();
      this.noting.form = null;
    }
    askedAgain.set(name, values);
    this.noting.open();
  }
}
