/** `weftcut page` as people run it: a process of its own that serves until it is interrupted. */
import { spawn } from "node:child_process";
import { join } from "node:path";
import process from "node:process";
import { afterAll, beforeAll, expect } from "vitest";
import { ROOT } from "../../cli/temp-folder.ts";

export interface Served {
  readonly url: string;
  readonly port: number;
  /** Interrupts it; gives its exit code. */
  readonly stop: () => Promise<number | null>;
}

export async function servePage(args: readonly string[] = ["--port", "0"]): Promise<Served> {
  const main = join(ROOT, "src/cli/main.ts");
  const child = spawn(process.execPath, ["--import", "tsx", main, "page", "--json", ...args], {
    cwd: ROOT,
    stdio: ["ignore", "pipe", "pipe"],
  });
  let out = "";
  let err = "";
  child.stderr.on("data", (data: Buffer) => {
    err += data;
  });
  const ended = new Promise<number | null>((resolve) => child.on("exit", resolve));
  const told = await new Promise<string>((resolve, reject) => {
    child.stdout.on("data", (data: Buffer) => {
      out += data;
      if (out.endsWith("}\n")) resolve(out);
    });
    void ended.then((code) => reject(new Error(`ended ${code}: ${out}${err}`)));
  });
  const { url, port } = JSON.parse(told) as { url?: string; port: number };
  if (url === undefined) throw new Error(`ended ${await ended}: ${told}`);
  return {
    url,
    port,
    stop: () => {
      child.kill("SIGINT");
      return ended;
    },
  };
}

/** One for all tests of a file. */
export function usingServer(): () => Served {
  let served: Served | undefined;
  beforeAll(async () => {
    served = await servePage();
  });
  afterAll(async () => {
    expect(await served?.stop()).toBe(0);
  });
  return () => {
    if (served === undefined) throw new Error("the page is not served yet");
    return served;
  };
}
