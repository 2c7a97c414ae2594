import { createReadStream, statSync } from "node:fs";
import { createServer } from "node:http";
import { createServer as createSecureServer } from "node:https";
import { extname, join, normalize, sep } from "node:path";
import { EMBEDDED_POLICY } from "./contentSecurityPolicy.js";

const TYPES = {
  ".html": "text/html; charset=utf-8",
  ".js": "text/javascript; charset=utf-8",
  ".css": "text/css; charset=utf-8",
  ".json": "application/json; charset=utf-8",
  ".xml": "application/xml; charset=utf-8",
  ".svg": "image/svg+xml",
  ".png": "image/png",
  ".woff2": "font/woff2",
  ".txt": "text/plain; charset=utf-8",
};

/**
 * Serves a folder of static files on this machine only.
 *
 * @param {{ folder: string, port?: number, certificate?: { cert: string | Buffer, key: string | Buffer } }} options `port`: the one wanted; the
 *   next free one is taken where it is in use. Zero takes any. With a certificate it is served over https, as Excel asks.
 * @returns {Promise<{ url: string, close: () => Promise<void> }>}
 */
export async function serve({ folder, port = 0, certificate }) {
  // Excel on the web reads the functions from its own origin.
  const shared = certificate === undefined ? {} : { "Access-Control-Allow-Origin": "*" };
  const listener = (request, response) => answer(folder, request, response, shared);
  const server = certificate === undefined ? createServer(listener) : createSecureServer(certificate, listener);
  const taken = await listen(server, port);
  return {
    url: `${certificate === undefined ? "http" : "https"}://localhost:${taken}/`,
    close: () =>
      new Promise((resolve) => {
        server.close(() => resolve());
        server.closeAllConnections();
      }),
  };
}

async function listen(server, wanted) {
  for (let port = wanted; ; port++) {
    try {
      await new Promise((resolve, reject) => {
        server.once("error", reject);
        server.listen(port, "127.0.0.1", () => {
          server.off("error", reject);
          resolve();
        });
      });
      return server.address().port;
    } catch (error) {
      if (error.code !== "EADDRINUSE" || port >= wanted + 50) throw error;
    }
  }
}

function answer(folder, request, response, headers) {
  if (request.method !== "GET" && request.method !== "HEAD") return refuse(response, 405, "only GET");
  let path;
  try {
    path = decodeURIComponent(new URL(request.url, "http://localhost").pathname);
  } catch {
    return refuse(response, 400, "not an address");
  }
  const name = path === "/" ? "/embedded.html" : path.endsWith("/") ? `${path}index.html` : path;
  const file = normalize(join(folder, name));
  if (!file.startsWith(normalize(folder) + sep) || file.includes("\0")) return refuse(response, 404, "not found");
  let size, tag;
  try {
    const about = statSync(file);
    if (!about.isFile()) return refuse(response, 404, "not found");
    size = about.size;
    tag = `"${size.toString(36)}-${Math.round(about.mtimeMs * 1000).toString(36)}"`;
  } catch {
    return refuse(response, 404, "not found");
  }
  const type = TYPES[extname(file)] ?? "application/octet-stream";
  const hashed = /\.[0-9a-f]{8}\.(js|css|png|svg|woff2)$/.test(file);
  // A file that is as the browser knows it is not sent again: then the browser need not compile its code again either.
  const known = request.headers["if-none-match"] === tag;
  response.writeHead(known ? 304 : 200, {
    ...headers,
    "Content-Type": type,
    ...(!known && { "Content-Length": size }),
    ETag: tag,
    "Cache-Control": hashed ? "public, max-age=31536000, immutable" : type.startsWith("text/html") ? "no-store" : "no-cache",
    // The page for Excel carries its own policy, which depends on where Office.js comes from.
    ...(!name.endsWith("/taskpane.html") && { "Content-Security-Policy": EMBEDDED_POLICY }),
    "X-Content-Type-Options": "nosniff",
    "Referrer-Policy": "no-referrer",
  });
  if (known || request.method === "HEAD") return response.end();
  createReadStream(file).on("error", () => response.destroy()).pipe(response);
}

function refuse(response, status, text) {
  response.writeHead(status, { "Content-Type": "text/plain; charset=utf-8", "Content-Security-Policy": EMBEDDED_POLICY });
  response.end(text);
}
