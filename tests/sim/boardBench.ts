// A board on its plant, stepped by hand, for tests that look at what the board does to the plant.
import { encodeLine, LineCutter } from "../../core/codec/framing.ts";
import { parseRigLine } from "../../core/codec/rigLineReader.ts";
import type { RigLine } from "../../core/codec/rigLines.ts";
import { Board } from "../../sim/board.ts";
import { Plant } from "../../sim/plant.ts";
import { Random } from "../../sim/random.ts";
import { parseScenario } from "../../sim/scenario.ts";

const STEP_S = 0.001;

export class BoardBench {
  readonly plant: Plant;
  readonly board: Board;
  lines: RigLine[] = [];
  token = "00000000";
  number = 0;
  private readonly cutter = new LineCutter((bytes, from, to) => {
    const line = parseRigLine(bytes.subarray(from, to));
    if (line.type === "malformed" || line.type === "unknown") throw new Error(line.type);
    if (line.type === "ok" && line.token !== null) this.token = line.token;
    this.lines.push(line);
  });

  constructor(rig: Record<string, unknown> = {}, content?: unknown) {
    const scenario = parseScenario(content ?? { mechanism: {}, rig }, "test");
    this.plant = new Plant(scenario);
    this.board = new Board(this.plant, scenario.rig, new Random(1, 3), {
      boot: 7,
      firstTick: 0,
      turn: 0,
      vacuum: 0,
      state: 0,
    });
    this.read();
  }

  /** Sends a body as it is and gives the answer to it as text, "" where none came. */
  send(body: string): string {
    this.lines = [];
    this.board.receive(encodeLine(body));
    this.read();
    const answer = this.lines.find(
      ({ type }) => type === "ok" || type === "no" || type === "hello",
    );
    if (answer === undefined) return "";
    if (answer.type === "no") return `no,${answer.number},${answer.reason}`;
    if (answer.type === "ok") {
      return answer.token === null ? `ok,${answer.number}` : `ok,${answer.number},TOKEN`;
    }
    return "hello";
  }

  /** Sends a new command by its type and the fields after its number; gives `ok` or the reason. */
  command(type: string, ...fields: (string | number)[]): string {
    this.number++;
    const answer = this.send([type, this.number, ...fields].join(","));
    return answer.replace(/^no,\d+,/, "").replace(/^ok,.*/, "ok");
  }

  arm(): string {
    return this.command("arm");
  }

  speed(rpm: number, ramp = 1000, direction = "cw"): string {
    return this.command("speed", this.token, direction, rpm, ramp);
  }

  alive(): void {
    this.send(`alive,${this.token}`);
  }

  /** Steps of 1 ms; `eachStep` is called before every one. */
  run(seconds: number, eachStep: () => void = () => {}): void {
    const steps = Math.round(seconds / STEP_S);
    for (let i = 0; i < steps; i++) {
      eachStep();
      this.board.beforeStep(STEP_S);
      this.plant.step(STEP_S);
      this.board.afterStep();
    }
    this.read();
  }

  /** The same with a sign of life every 100 ms. */
  runAlive(seconds: number): void {
    for (let left = seconds; left > 1e-9; left -= 0.1) {
      this.board.receive(encodeLine(`alive,${this.token}`));
      this.run(Math.min(0.1, left));
    }
  }

  get state() {
    const line = this.lines.findLast((candidate) => candidate.type === "state");
    if (line?.type !== "state") throw new Error("no state line came");
    return line;
  }

  private read(): void {
    const bytes = this.board.outbox.take(1000);
    if (bytes !== null) this.cutter.push(bytes);
  }
}
