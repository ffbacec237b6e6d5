// What was tapped goes through here: kept on the device until the daemon has it on disk, sent in order, taken once
// (each has a key that the daemon knows again).
import { type Deed, type Instant, postEvent, Refusal } from "./api";

export interface Waiting {
  key: string;
  at: Instant;
  deed: Deed;
  said: string; // for people: "Bonnet laid"
}
export interface Outcome {
  waiting: Waiting;
  seq?: number; // taken
  refused?: string; // not taken, and why
}

const place = "dryclock.queue";
const retry_after = 5000; // ms

// crypto.randomUUID is for secure contexts only, and a phone in the bay speaks plain HTTP.
function newKey(): string {
  return Array.from(crypto.getRandomValues(new Uint8Array(16)), (byte) => byte.toString(16).padStart(2, "0")).join("");
}

function load(): Waiting[] {
  try {
    return JSON.parse(localStorage.getItem(place) ?? "[]") as Waiting[];
  } catch {
    return [];
  }
}

export class Queue {
  private sending = false;
  private timer: number | undefined;

  constructor(
    private readonly onChange: (waiting: Waiting[]) => void,
    private readonly onOutcome: (outcome: Outcome) => void,
  ) {
    // Another tab may send what this one kept, or keep more.
    addEventListener("storage", (change) => {
      if (change.key === place) {
        this.onChange(load());
      }
    });
  }

  get waiting(): Waiting[] {
    return load();
  }

  add(deed: Deed, at: Date, said: string): void {
    this.store([...load(), { key: newKey(), at: at.toISOString(), deed, said }]);
    void this.send();
  }

  async send(): Promise<void> {
    if (this.sending) {
      return;
    }
    this.sending = true;
    clearTimeout(this.timer);
    try {
      for (let next = load()[0]; next; next = load()[0]) {
        const outcome = await this.tell(next);
        const sent = next.key;
        this.store(load().filter((one) => one.key !== sent));
        this.onOutcome(outcome);
      }
    } catch {
      this.timer = window.setTimeout(() => void this.send(), retry_after);
    } finally {
      this.sending = false;
    }
  }

  // Throws where it is worth another try.
  private async tell(next: Waiting): Promise<Outcome> {
    try {
      const { seq } = await postEvent({ ...next.deed, at: next.at, key: next.key });
      return { waiting: next, seq };
    } catch (error) {
      const final = error instanceof Refusal && [400, 403, 409, 413, 415].includes(error.problem.status);
      if (!final) {
        throw error;
      }
      return { waiting: next, refused: error.problem.detail };
    }
  }

  private store(waiting: Waiting[]): void {
    localStorage.setItem(place, JSON.stringify(waiting));
    this.onChange(waiting);
  }
}
