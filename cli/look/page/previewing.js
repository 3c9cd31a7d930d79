// Working out what a step would do, while it is written: the newest is asked for, every earlier one is
// given up, and nothing of it is shown any more.

const WORKING = "Working it out …";
const underWay = new Set();

class Previewing {
  /**
   * `told` gives what the action is told; `ready` hears whether all is said that is to be known
   * before it is recorded; `refused` is where a refusal stands; `also` takes what else is said.
   */
  constructor(part, { action, refused, told, ready, also }) {
    this.part = part;
    this.rail = new Rail(part);
    this.action = action;
    this.refused = refused;
    this.told = told;
    this.ready = ready;
    this.also = also;
    this.asking = new AbortController();
    this.number = 0;
    this.version = "";
    this.isAsked = false;
    underWay.add(this);
  }

  /** Give up what is asked for: nothing of it is shown any more. */
  stop() {
    this.asking.abort();
    this.asking = new AbortController();
    this.number += 1;
    this.version = "";
    this.ready(false);
  }

  /** Show nothing. */
  rest(words) {
    this.stop();
    this.isAsked = false;
    this.refused.textContent = "";
    this.rail.clear(words);
  }

  /** Work it out as it is written now. */
  moved() {
    this.stop();
    this.isAsked = true;
    this.refused.textContent = "";
    this.rail.forget(WORKING);
    const number = this.number;
    // However fast it is moved, it is tried no more often than it is drawn.
    requestAnimationFrame(() => number === this.number && this.preview(number));
  }

  async preview(number) {
    let version = "";
    try {
      const how = { signal: this.asking.signal };
      for await (const line of linesOf(this.action, this.told(), how)) {
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
      this.ready(true);
    } else if (line.picture !== undefined) {
      this.rail.show(line.picture, line.html);
    } else if (line.whole === undefined) {
      this.also(line);
    }
  }

  refuse(error) {
    this.stop();
    this.rail.clear("");
    this.refused.textContent = error instanceof Refused ? error.message : STOPPED;
  }
}

// Whoever leaves the page wants no more of its answers.
addEventListener("hashchange", () => {
  for (const each of underWay) {
    each.stop();
    if (!each.part.isConnected) {
      underWay.delete(each);
    }
  }
});
// Where another wrote, what was said is of before.
whenMoved.push(() => {
  for (const each of underWay) {
    if (each.isAsked && each.part.isConnected) {
      each.moved();
    }
  }
});
