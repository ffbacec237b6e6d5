// The board as it changes, and whether it still does.
import { type Board, getBoard, Refusal } from "./api";

export type Link = "asking" | "live" | "lost" | "unpaired";

const quiet_for = 75_000; // ms without a board before asking whether the daemon is there
const watch_every = 5000;

export class Live {
  private source: EventSource | undefined;
  private heard = Date.now();
  private asking = false;

  constructor(
    private readonly onBoard: (board: Board) => void,
    private readonly onLink: (link: Link) => void,
  ) {
    addEventListener("online", () => this.open());
    addEventListener("offline", () => this.onLink("lost"));
    // A phone that slept may hold a connection that is long gone.
    document.addEventListener("visibilitychange", () => {
      if (document.visibilityState === "visible") {
        void this.ask();
      }
    });
    setInterval(() => this.watch(), watch_every);
    this.open();
  }

  private open(): void {
    this.source?.close();
    const source = new EventSource("/api/v1/live");
    this.source = source;
    source.addEventListener("board", (event) => this.take(JSON.parse(event.data as string) as Board));
    source.addEventListener("error", () => {
      this.onLink("lost");
      if (source.readyState === EventSource.CLOSED) {
        void this.ask(); // refused: the answer tells why
      }
    });
  }

  private take(board: Board): void {
    this.heard = Date.now();
    this.onBoard(board);
    this.onLink("live");
  }

  private watch(): void {
    if (this.source?.readyState === EventSource.CLOSED || Date.now() - this.heard > quiet_for) {
      void this.ask();
    }
  }

  // Asks once, out of turn; where that works the stream is opened anew.
  private async ask(): Promise<void> {
    if (this.asking) {
      return;
    }
    this.asking = true;
    try {
      this.take(await getBoard());
      if (this.source?.readyState !== EventSource.OPEN) {
        this.open();
      }
    } catch (error) {
      this.onLink(error instanceof Refusal && error.problem.status === 401 ? "unpaired" : "lost");
    } finally {
      this.asking = false;
    }
  }
}
