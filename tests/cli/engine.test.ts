import { spawnSync } from "node:child_process";
import { describe, expect, it } from "vitest";
import { engineOptions } from "../../cli/engine.ts";

describe("the engine's options", () => {
  it("are known to the engine that runs this: it says nothing about them", () => {
    const words = JSON.stringify(engineOptions(process.versions.v8));
    const script = `for (const option of ${words}) require("node:v8").setFlagsFromString(option); new Function("return 1")()`;
    const { status, stderr } = spawnSync(process.execPath, ["-e", script], { encoding: "utf8" });
    expect(stderr).toBe("");
    expect(status).toBe(0);
  });

  it("would be complained about where the engine does not know them", () => {
    const script = `require("node:v8").setFlagsFromString("--sew-faster")`;
    const { stderr } = spawnSync(process.execPath, ["-e", script], { encoding: "utf8" });
    expect(stderr).toContain("--sew-faster");
  });

  it("are left alone on an engine that nobody tried them on", () => {
    expect(engineOptions("99.1.0.0")).toEqual([]);
    expect(engineOptions("11.3.244.8-node.33")).not.toEqual([]);
  });
});
