/** The machine file on designs small enough to count by hand; read by the second reader of tests/support. */
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { machineFile } from "../../core/output/machine.ts";
import { machineDrawing } from "../../core/output/machine-drawing.ts";
import { machineOrigin } from "../../core/output/machine-moves.ts";
import { isMachineFile, readMachineFile } from "../../core/output/machine-reader.ts";
import { readRecord, writeRecord } from "../../core/output/machine-record.ts";
import type { Plan, SewingStep, SewnStep } from "../../core/plan/types.ts";
import { DEFAULT_SETTINGS, type Settings } from "../../core/settings.ts";
import { planOf } from "../support/plans.ts";
import { sewn } from "../support/sewing.ts";
import { readStitchFile } from "../support/stitch-file.ts";

const RED = "#a3293d";
const BLUE = "#2f6f8f";

/** A strand through these points, its first needle point among them. */
const strand = (number: number, points: readonly (readonly [number, number])[], block = 0): SewnStep => ({
  ...sewn("tie-in", points, block),
  strand: number,
});

const planWith = (sewing: readonly SewingStep[], settings: Partial<Settings> = {}): Plan => ({
  ...planOf(sewing, [RED, BLUE]),
  settings: { ...DEFAULT_SETTINGS, ...settings },
});

const fileOf = (sewing: readonly SewingStep[], settings: Partial<Settings> = {}) =>
  readStitchFile(machineFile(planWith(sewing, settings)));

/** `stitch 30,0`: what each record does and how far it moves, in tenths of a millimetre, y up. */
const records = (sewing: readonly SewingStep[], settings: Partial<Settings> = {}) =>
  fileOf(sewing, { origin: "start", ...settings }).stitches.map(({ what, dx, dy }) => `${what} ${dx},${dy}`);

describe("a record", () => {
  // Worked by hand from the bits of each weight, which are known from memory and common practice.
  it.each([
    ["no move", "stitch", 0, 0, [0x00, 0x00, 0x03]],
    ["one unit right", "stitch", 1, 0, [0x01, 0x00, 0x03]],
    ["one unit up", "stitch", 0, 1, [0x80, 0x00, 0x03]],
    ["two units left: three left, one right", "stitch", -2, 0, [0x01, 0x02, 0x03]],
    ["as far right and down as it goes", "jump", 121, -121, [0x55, 0x55, 0x97]],
    ["a colour change", "change", 0, 0, [0x00, 0x00, 0xc3]],
    ["the end", "end", 0, 0, [0x00, 0x00, 0xf3]],
  ] as const)("of %s", (_name, kind, dx, dy, bytes) => {
    const written = new Uint8Array(3);
    writeRecord(written, 0, { kind, dx, dy });
    expect([...written]).toEqual([...bytes]);
  });

  it("is read as it was written, for every move it can make", () => {
    const bytes = new Uint8Array(3);
    for (let dx = -121; dx <= 121; dx++)
      for (const dy of [-121, -41, -40, -14, -1, 0, 2, 13, 60, 121]) {
        writeRecord(bytes, 0, { kind: "jump", dx, dy });
        expect(readRecord(bytes, 0)).toEqual({ kind: "jump", dx, dy });
      }
  });

  it.each([122, -122, 0.5, Number.NaN])("refuses to move by %d units", (dx) => {
    expect(() => writeRecord(new Uint8Array(3), 0, { kind: "stitch", dx, dy: 0 })).toThrow(RangeError);
  });
});

describe("the moves", () => {
  it("begin with the strand's first needle point, then a record a stitch", () => {
    expect(
      records([
        strand(0, [
          [5, 5],
          [8, 5],
          [8, 4],
        ]),
      ]),
    ).toEqual(["stitch 0,0", "stitch 30,0", "stitch 0,10"]);
  });

  it("lead from the middle of the design to its first stitch", () => {
    const file = fileOf([
      strand(0, [
        [5, 5],
        [9, 5],
        [9, 7],
      ]),
    ]);
    expect(file.stitches.map(({ what, x, y }) => `${what} ${x},${y}`)).toEqual([
      "jump -20,10",
      "stitch -20,10",
      "stitch 20,10",
      "stitch 20,-10",
    ]);
    expect(
      machineOrigin(
        planWith([
          strand(0, [
            [5, 5],
            [9, 5],
            [9, 7],
          ]),
        ]),
      ),
    ).toEqual([7, 6]);
  });

  it("split a stitch that is longer than a record reaches into even jumps and one stitch", () => {
    expect(
      records([
        strand(0, [
          [0, 0],
          [12.7, 0],
        ]),
      ]),
    ).toEqual(["stitch 0,0", "jump 64,0", "stitch 63,0"]);
  });

  it("leave out a stitch that comes to less than a tenth of a millimetre", () => {
    expect(
      records([
        strand(0, [
          [0, 0],
          [0.02, 0],
          [2, 0],
        ]),
      ]),
    ).toEqual(["stitch 0,0", "stitch 20,0"]);
  });

  const trimmed: readonly SewingStep[] = [
    strand(0, [
      [0, 0],
      [2, 0],
    ]),
    { role: "trim" },
    { role: "jump", points: Float64Array.of(2, 0, 11, 6) },
    strand(1, [
      [11, 6],
      [13, 6],
    ]),
  ];

  it("write a trim as three jumps, even along the way to the next strand", () => {
    expect(records(trimmed)).toEqual([
      "stitch 0,0",
      "stitch 20,0",
      "jump 30,-20",
      "jump 30,-20",
      "jump 30,-20",
      "stitch 0,0",
      "stitch 20,0",
    ]);
  });

  it.each([1, 2, 7])("write it as %d jumps where the machine is set so", (trimJumps) => {
    expect(records(trimmed, { trimJumps }).filter((record) => record.startsWith("jump"))).toHaveLength(
      trimJumps,
    );
  });

  it("take more jumps where the way is long, none of them longer than another by more than a unit", () => {
    const far = [
      ...trimmed.slice(0, 2),
      strand(1, [
        [102, 0],
        [104, 0],
      ]),
    ];
    const jumps = records(far).filter((record) => record.startsWith("jump"));
    expect(jumps).toHaveLength(9);
    expect(new Set(jumps)).toEqual(
      new Set(["jump 111,0", "jump 112,0"].filter((jump) => jumps.includes(jump))),
    );
  });

  it("trim on the spot where the next strand begins there", () => {
    const here = [
      ...trimmed.slice(0, 2),
      strand(1, [
        [2, 0],
        [4, 0],
      ]),
    ];
    expect(records(here).slice(2, 6)).toEqual(["jump 0,0", "jump 0,0", "jump 0,0", "stitch 0,0"]);
  });

  it("change the thread where it goes on, after the trim and the way there", () => {
    const changed: readonly SewingStep[] = [
      strand(0, [
        [0, 0],
        [2, 0],
      ]),
      { role: "trim" },
      { role: "colour-change", colour: BLUE },
      { role: "jump", points: Float64Array.of(2, 0, 5, 0) },
      strand(
        1,
        [
          [5, 0],
          [7, 0],
        ],
        1,
      ),
    ];
    expect(records(changed).slice(2)).toEqual([
      "jump 10,0",
      "jump 10,0",
      "jump 10,0",
      "stop 0,0",
      "stitch 0,0",
      "stitch 20,0",
    ]);
  });

  it("never drift: ten thousand stitches of a third of a millimetre end where they should", () => {
    const points = Array.from({ length: 10_001 }, (_, k): [number, number] => [k / 3, k / 7]);
    const { stitches } = fileOf([strand(0, points)], { origin: "start" });
    const last = stitches[stitches.length - 1];
    expect([last.x, last.y]).toEqual([33_333, -14_286]);
  });

  it("stay within half a unit of any path, whatever its steps", () => {
    const coordinate = fc.double({ min: -300, max: 300, noNaN: true });
    fc.assert(
      fc.property(fc.array(fc.tuple(coordinate, coordinate), { minLength: 2, maxLength: 20 }), (points) => {
        const { stitches } = fileOf([strand(0, points)], { origin: "start" });
        const holes = stitches.filter(({ what }) => what === "stitch");
        const [x0, y0] = points[0];
        for (const [x, y] of points) {
          const near = holes.some(
            (hole) =>
              Math.abs(hole.x / 10 - (x - x0)) < 0.0500001 && Math.abs(hole.y / 10 + (y - y0)) < 0.0500001,
          );
          expect(near).toBe(true);
        }
      }),
      { numRuns: 100, seed: 20 },
    );
  });

  it("are none where nothing is sewn: the file has its header and its end", () => {
    const bytes = machineFile(planWith([]));
    expect(bytes).toHaveLength(515);
    expect(readStitchFile(bytes).header).toMatchObject({
      ST: "      0",
      CO: "  0",
      "+X": "    0",
      AX: "+    0",
    });
  });
});

describe("the header", () => {
  const bytes = machineFile({
    ...planWith(
      [
        strand(0, [
          [0, 0],
          [3, 0],
          [3, 2],
        ]),
      ],
      { origin: "start" },
    ),
    source: { name: "Graureiher für Willowmere.svg", sha256: "0".repeat(64) },
  });

  it("is 512 bytes of fields of fixed width, then blanks", () => {
    const text = Buffer.from(bytes.subarray(0, 512)).toString("latin1");
    expect(text.slice(0, 125)).toBe(
      "LA:Graureiher-f-r-W\rST:      3\rCO:  0\r+X:   30\r-X:    0\r+Y:    0\r-Y:   20\rAX:+   30\rAY:-   20\rMX:+    0\rMY:+    0\rPD:******\r\u001a",
    );
    expect(text.slice(125)).toBe(" ".repeat(387));
  });

  it("is the same bytes every time", () => {
    expect(
      machineFile(
        planWith([
          strand(0, [
            [0, 0],
            [3, 0],
          ]),
        ]),
      ),
    ).toEqual(
      machineFile(
        planWith([
          strand(0, [
            [0, 0],
            [3, 0],
          ]),
        ]),
      ),
    );
  });
});

describe("reading back", () => {
  const plan = planWith([
    strand(0, [
      [10, 10],
      [13, 10],
      [13, 12],
    ]),
    { role: "trim" },
    strand(1, [
      [20, 10],
      [23, 10],
    ]),
    { role: "trim" },
    { role: "colour-change", colour: BLUE },
    strand(
      2,
      [
        [10, 20],
        [23, 20],
      ],
      1,
    ),
  ]);
  const bytes = machineFile(plan);

  it("finds blocks, strands and stitches, in millimetres from the design's corner", () => {
    const design = readMachineFile(bytes);
    expect(design).toMatchObject({
      size: { widthMm: 13, heightMm: 10 },
      stitches: 7,
      colourChanges: 1,
      trims: 2,
      startMm: [6.5, 5],
      blocks: [
        { stitches: 5, trims: 2 },
        { stitches: 2, trims: 0, threadMm: 13 },
      ],
      faults: [],
    });
    expect(
      design.sewing.flatMap((step) => ("points" in step && step.role === "cover" ? [[...step.points]] : [])),
    ).toEqual([
      [0, 0, 3, 0, 3, 2],
      [10, 0, 13, 0],
      [0, 10, 13, 10],
    ]);
  });

  it("draws a group a block, a line a strand, and dashes between strands", () => {
    const svg = machineDrawing(readMachineFile(bytes));
    expect(svg.match(/<g id="block-/g)).toHaveLength(2);
    expect(svg).toContain('<polyline points="0,0 3,0 3,2"/>');
    expect(svg).toContain('<polyline points="3,2 10,0"/>');
    expect(svg).toMatch(/width="13mm" height="10mm" viewBox="0 0 13 10"/);
  });

  it("says what does not agree", () => {
    const lying = bytes.slice();
    lying.set(Buffer.from("ST:     99\rCO:  4"), 20);
    expect(readMachineFile(lying).faults).toEqual([
      `The header says 99 records, and there are ${readStitchFile(bytes).stitches.length}.`,
      "The header says 4 colour changes, and there are 1.",
    ]);
    expect(readMachineFile(bytes.subarray(0, bytes.length - 4)).faults[0]).toMatch(/cut short/);
  });

  it("knows a machine file by its first field and its length", () => {
    expect(isMachineFile(bytes)).toBe(true);
    expect(isMachineFile(Buffer.from("LA:heron"))).toBe(false);
    expect(isMachineFile(Buffer.from("<svg/>".padEnd(600)))).toBe(false);
    expect(() => readMachineFile(Buffer.from("<svg/>"))).toThrow("This is no machine file");
    expect(() => readMachineFile(machineFile(planWith([])))).toThrow("No stitch is in this machine file");
  });

  it("is not upset by any bytes", () => {
    fc.assert(
      fc.property(fc.uint8Array({ minLength: 0, maxLength: 400 }), (tail) => {
        const any = new Uint8Array(512 + tail.length);
        any.set(Buffer.from("LA:"), 0);
        any.set(tail, 512);
        try {
          expect(readMachineFile(any).stitches).toBeGreaterThan(0);
        } catch (error) {
          expect((error as Error).message).toMatch(/No stitch/);
        }
      }),
      { numRuns: 200, seed: 5 },
    );
  });
});
