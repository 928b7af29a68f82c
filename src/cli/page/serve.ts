/**
 * Serves one text to this machine alone.
 *
 * It listens on 127.0.0.1 and answers only who calls it by that name, so that no page from elsewhere can reach it
 * under a name of its own. It knows one document, and takes nothing in.
 */
import { createServer, type IncomingMessage, type Server, type ServerResponse } from "node:http";
import type { AddressInfo } from "node:net";

export const HOST = "127.0.0.1";

export interface Served {
  readonly port: number;
  readonly stop: () => Promise<void>;
}

/** The page's own policy stands in its text; this one keeps other pages from framing it. */
const HEADERS = {
  "Cache-Control": "no-store",
  "Content-Security-Policy": "frame-ancestors 'none'",
  "Cross-Origin-Embedder-Policy": "require-corp",
  "Cross-Origin-Opener-Policy": "same-origin",
  "Cross-Origin-Resource-Policy": "same-origin",
  "Permissions-Policy": "camera=(), geolocation=(), microphone=(), serial=(), usb=()",
  "Referrer-Policy": "no-referrer",
  "X-Content-Type-Options": "nosniff",
  "X-Frame-Options": "DENY",
} as const;

export async function serve(html: string, port: number): Promise<Served> {
  const server = createServer((request, response) => answer(request, response, html));
  await new Promise<void>((resolve, reject) => {
    server.once("error", reject);
    server.listen(port, HOST, resolve);
  });
  return { port: (server.address() as AddressInfo).port, stop: () => stopped(server) };
}

function stopped(server: Server): Promise<void> {
  return new Promise((resolve) => {
    server.close(() => resolve());
    server.closeAllConnections();
  });
}

function answer(request: IncomingMessage, response: ServerResponse, html: string): void {
  const { status, type, text } = answerTo(request, html);
  response.writeHead(status, { ...HEADERS, "Content-Type": `text/${type}; charset=utf-8` });
  response.end(request.method === "HEAD" ? undefined : text);
}

interface Answer {
  readonly status: number;
  readonly type: "html" | "plain";
  readonly text: string;
}

function answerTo({ method = "", url = "", headers }: IncomingMessage, html: string): Answer {
  const refused = (status: number, why: string): Answer => ({
    status,
    type: "plain",
    text: `${why}\n`,
  });
  if (!/^(127\.0\.0\.1|localhost)(:\d+)?$/.test(headers.host ?? ""))
    return refused(421, "not here");
  if (method !== "GET" && method !== "HEAD") return refused(405, "nothing is taken in here");
  if (!/^\/(\?|$)/.test(url)) return refused(404, "there is one page here: /");
  return { status: 200, type: "html", text: html };
}
