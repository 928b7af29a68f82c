/** `weftcut page`: to this machine alone, whole or not at all, and ended by Ctrl-C. No browser is needed here. */
import { createServer, request } from "node:http";
import type { AddressInfo } from "node:net";
import { join } from "node:path";
import { describe, expect, onTestFinished, test } from "vitest";
import { servePage } from "../../page/support/served.ts";
import { weftcut } from "../run-cli.ts";
import { tempFolder } from "../temp-folder.ts";

interface Answer {
  readonly status: number;
  readonly headers: Readonly<Record<string, unknown>>;
  readonly text: string;
}

function asked(port: number, path: string, more: { method?: string; host?: string } = {}) {
  return new Promise<Answer>((resolve, reject) => {
    const { method = "GET", host } = more;
    const headers = host === undefined ? {} : { Host: host };
    const sent = request({ host: "127.0.0.1", port, path, method, headers }, (response) => {
      let text = "";
      response.on("data", (data) => {
        text += data;
      });
      response.on("end", () =>
        resolve({ status: response.statusCode ?? 0, headers: response.headers, text }),
      );
    });
    sent.on("error", reject);
    sent.end();
  });
}

test("serves one document with strict headers to who calls it by its own name, and ends with 0", async () => {
  const { url, port, stop } = await servePage();
  expect(url).toBe(`http://127.0.0.1:${port}/`);
  const page = await asked(port, "/");
  expect(page.status).toBe(200);
  expect(page.headers).toMatchObject({
    "content-type": "text/html; charset=utf-8",
    "x-content-type-options": "nosniff",
    "referrer-policy": "no-referrer",
    "cross-origin-opener-policy": "same-origin",
    "cross-origin-embedder-policy": "require-corp",
    "content-security-policy": "frame-ancestors 'none'",
  });
  const policy =
    /http-equiv="Content-Security-Policy" content="([^"]+)"/.exec(page.text)?.[1] ?? "";
  expect(policy).toMatch(/^default-src 'none'; script-src 'sha256-/);
  expect(policy).not.toMatch(/unsafe|\*|https?:/);
  // Nothing in it is fetched from anywhere.
  expect(page.text).not.toMatch(/<(script|img|link|iframe)[^>]+(src|href)="(?!data:,)/);
  expect((await asked(port, "/", { method: "HEAD" })).text).toBe("");
  expect((await asked(port, "/other")).status).toBe(404);
  expect((await asked(port, "/", { method: "POST" })).status).toBe(405);
  expect((await asked(port, "/", { host: "evil.example" })).status).toBe(421);
  expect(await stop()).toBe(0);
});

describe("refuses in words, with exit code 2", () => {
  test("a port that is in use", async () => {
    const other = createServer();
    await new Promise<void>((resolve) => other.listen(0, "127.0.0.1", resolve));
    onTestFinished(() => void other.close());
    const { port } = other.address() as AddressInfo;
    await expect(servePage(["--port", String(port)])).rejects.toThrow(/^ended 2: .*port-in-use/s);
  });

  test("a port that is none", () => {
    for (const port of ["-1", "65536", "x", ""]) {
      const ran = weftcut(["page", "--port", port]);
      expect([ran.code, ran.out]).toEqual([2, ""]);
      expect(ran.err).toMatch(/from 0 to 65535/);
    }
  });

  test("a package without the built page", () => {
    const ran = weftcut(["page", "--out", join(tempFolder(), "x.html")]);
    expect(ran.code).toBe(2);
    expect(ran.err).toMatch(/page-not-built .*\n.*npm run build/);
  });
});

test("help shows an example", () => {
  const { code, out } = weftcut(["page", "--help"]);
  expect(code).toBe(0);
  expect(out).toMatch(/Example:\n {2}weftcut page --port/);
});
