// What would become of a correction in every pattern below, the most urgent first. What is not known
// yet is grey and empty: what was there of an earlier amount is taken away the moment it is moved.

const LAST = Number.MAX_SAFE_INTEGER;

class Rail {
  constructor(part) {
    this.tally = part.querySelector(".tally");
    this.own = part.querySelector(".own");
    this.rows = part.querySelector(".rows");
    this.byName = new Map();
  }

  /** Take away all that was told of an earlier amount. */
  forget(words) {
    this.tally.textContent = words;
    this.own.replaceChildren();
    for (const row of this.byName.values()) {
      this.empty(row);
    }
  }

  clear(words) {
    this.forget(words);
    this.rows.replaceChildren();
    this.byName.clear();
  }

  empty(row) {
    row.classList.add("unfinished");
    row.dataset.rank = LAST;
    row.querySelector(".told-of").replaceChildren("Not worked out yet");
    row.querySelector(".seen").replaceChildren();
  }

  /** Have a row for each pattern, and no other. */
  expect(below) {
    const wanted = new Set(below.map(([name]) => name));
    for (const [name, row] of this.byName) {
      if (!wanted.has(name)) {
        row.remove();
        this.byName.delete(name);
      }
    }
    for (const [name, address] of below) {
      if (!this.byName.has(name)) {
        this.byName.set(name, this.made(name, address));
      }
    }
  }

  made(name, address) {
    const row = document.createElement("li");
    const words = document.createElement("div");
    const heading = document.createElement("h3");
    const link = document.createElement("a");
    link.href = `#/${address}`;
    link.textContent = name;
    heading.append(link);
    const told = document.createElement("div");
    told.className = "told-of";
    const seen = document.createElement("div");
    seen.className = "seen";
    words.append(heading, told);
    row.append(words, seen);
    this.empty(row);
    this.rows.append(row);
    return row;
  }

  tell(name, rank, html) {
    const row = this.byName.get(name);
    row.classList.remove("unfinished");
    row.dataset.rank = rank;
    row.querySelector(".told-of").innerHTML = html;
    const after = Array.from(this.rows.children).find(
      (other) => other !== row && Number(other.dataset.rank) > rank,
    );
    this.rows.insertBefore(row, after || null);
  }

  show(name, html) {
    const row = this.byName.get(name);
    if (row) {
      row.querySelector(".seen").innerHTML = html;
    } else {
      this.own.insertAdjacentHTML("beforeend", html);
    }
  }
}
