/**
 * Who may ask. The server listens on the loopback interface only, but every page in the artist's browser, and
 * every program on the machine, can reach that. So: the Host header must be our own (a name that was made to
 * point here, "DNS rebinding", carries its own name); a request that says where it comes from must come from
 * our own page; and whatever touches drawings must show the session's token, which no other page can know.
 */
import { timingSafeEqual } from "node:crypto";
import type { IncomingHttpHeaders } from "node:http";

/** The header that carries the token. A page of another origin cannot set it without being asked for leave. */
export const TOKEN_HEADER = "x-tuckline-token";

/** @returns why the request is refused, in words; undefined where it comes from our own page or a plain visit */
export function whyForeign(headers: IncomingHttpHeaders, port: number): string | undefined {
  const hosts = [`127.0.0.1:${port}`, `localhost:${port}`];
  if (!hosts.includes(headers.host ?? "")) return "This server answers to its own address only.";
  const { origin } = headers;
  if (origin !== undefined && !hosts.some((host) => origin === `http://${host}`))
    return "This server answers its own page only.";
  const site = headers["sec-fetch-site"];
  const isVisit = headers["sec-fetch-mode"] === "navigate" && headers["sec-fetch-dest"] === "document";
  if (site !== undefined && site !== "same-origin" && site !== "none" && !isVisit)
    return "This server answers its own page only.";
  return undefined;
}

export function showsToken(headers: IncomingHttpHeaders, token: string): boolean {
  const shown = Buffer.from(String(headers[TOKEN_HEADER] ?? ""));
  const known = Buffer.from(token);
  return shown.length === known.length && timingSafeEqual(shown, known);
}

/**
 * What every answer carries. Scripts come from here only and styles may stand in the page (the editor writes
 * some); nothing is loaded from elsewhere, framed, or kept. The two policies on cross-origin isolation make
 * shared memory available, by which planning is cancelled.
 */
export const SECURITY_HEADERS: Readonly<Record<string, string>> = {
  "Content-Security-Policy": [
    "default-src 'none'",
    "script-src 'self'",
    "style-src 'self' 'unsafe-inline'",
    "img-src 'self' data: blob:",
    "font-src 'self' data:",
    "connect-src 'self'",
    "worker-src 'self'",
    "manifest-src 'none'",
    "base-uri 'self'",
    "form-action 'none'",
    "frame-ancestors 'none'",
  ].join("; "),
  "Cross-Origin-Opener-Policy": "same-origin",
  "Cross-Origin-Embedder-Policy": "require-corp",
  "Cross-Origin-Resource-Policy": "same-origin",
  "Referrer-Policy": "no-referrer",
  "X-Content-Type-Options": "nosniff",
  "Cache-Control": "no-store",
};
