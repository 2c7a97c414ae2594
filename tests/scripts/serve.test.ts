import { execFileSync, spawnSync } from "node:child_process";
import { mkdirSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { request } from "node:http";
import { request as secureRequest } from "node:https";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterAll, beforeAll, describe, expect, test } from "vitest";
import { serve } from "../../scripts/serve.js";

/** Makes a certificate for the test; without it that test is skipped. */
const openssl = spawnSync("openssl", ["version"]).status === 0;

describe("serve", () => {
  const outside = mkdtempSync(join(tmpdir(), "leapsheet-serve-"));
  const folder = join(outside, "dist");
  let server: Awaited<ReturnType<typeof serve>>;

  beforeAll(async () => {
    mkdirSync(join(folder, "docs"), { recursive: true });
    mkdirSync(`${folder}-other`);
    writeFileSync(join(outside, "secret.txt"), "secret");
    writeFileSync(join(`${folder}-other`, "secret.txt"), "secret");
    writeFileSync(join(folder, "embedded.html"), "<p>page</p>");
    writeFileSync(join(folder, "docs", "index.html"), "<p>docs</p>");
    writeFileSync(join(folder, "a.0123abcd.js"), "1");
    server = await serve({ folder });
  });
  afterAll(async () => {
    await server.close();
    rmSync(outside, { recursive: true });
  });

  /** The path exactly as given: `fetch` would tidy it first. */
  const status = (path: string, method = "GET") =>
    new Promise<number>((resolve, reject) => {
      const { hostname, port } = new URL(server.url);
      request({ hostname, port, path, method }, (response) => {
        response.resume();
        resolve(response.statusCode!);
      })
        .on("error", reject)
        .end();
    });

  test("answers the page at the root, folders by their index, and scripts whose name changes with them for a year", async () => {
    expect(await (await fetch(server.url)).text()).toBe("<p>page</p>");
    expect(await (await fetch(`${server.url}docs/`)).text()).toBe("<p>docs</p>");
    expect((await fetch(server.url)).headers.get("cache-control")).toBe("no-store");
    expect((await fetch(`${server.url}a.0123abcd.js`)).headers.get("cache-control")).toContain("immutable");
  });

  test.each(["/../secret.txt", "/..%2fsecret.txt", "/%2e%2e/secret.txt", "/docs/../../secret.txt", "/../dist-other/secret.txt", "/..%5csecret.txt", "/a%00.js", "/docs", "/none"])("keeps %s to itself", async (path) => {
    expect(await status(path)).toBe(404);
  });

  test("answers a broken address and other methods without falling over", async () => {
    expect(await status("/%zz")).toBe(400);
    expect(await status("/", "POST")).toBe(405);
    expect(await status("/", "HEAD")).toBe(200);
  });

  test("sends the strict policy with everything but the page for Excel, which carries its own", async () => {
    writeFileSync(join(folder, "taskpane.html"), "<p>pane</p>");
    const policy = async (path: string) => (await fetch(`${server.url}${path}`)).headers.get("content-security-policy");
    expect(await policy("")).toContain("script-src 'self';");
    expect(await policy("a.0123abcd.js")).toContain("default-src 'none'");
    expect(await policy("none")).toContain("default-src 'none'");
    expect(await policy("taskpane.html")).toBeNull();
  });

  test.skipIf(!openssl)("serves over https where it is given a certificate, and lets Excel on the web read it", async () => {
    const [cert, key] = [join(outside, "localhost.crt"), join(outside, "localhost.key")];
    execFileSync("openssl", ["req", "-x509", "-newkey", "rsa:2048", "-nodes", "-days", "2", "-subj", "/CN=localhost", "-addext", "subjectAltName=DNS:localhost", "-keyout", key, "-out", cert], { stdio: "ignore" });
    const certificate = { cert: readFileSync(cert), key: readFileSync(key) };
    const secure = await serve({ folder, certificate });
    try {
      expect(secure.url).toMatch(/^https:\/\/localhost:\d+\/$/);
      const answer = await new Promise<{ status?: number; origin?: string }>((resolve, reject) => {
        secureRequest(secure.url, { ca: certificate.cert }, (response) => {
          response.resume();
          resolve({ status: response.statusCode, origin: response.headers["access-control-allow-origin"] });
        })
          .on("error", reject)
          .end();
      });
      expect(answer).toEqual({ status: 200, origin: "*" });
    } finally {
      await secure.close();
    }
    // The page of one's own that is not for Excel stays unreadable to others.
    expect((await fetch(server.url)).headers.get("access-control-allow-origin")).toBeNull();
  });

  test("takes the next port where the wanted one is in use, and listens on this machine only", async () => {
    const wanted = Number(new URL(server.url).port);
    const other = await serve({ folder, port: wanted });
    expect(Number(new URL(other.url).port)).toBeGreaterThan(wanted);
    await other.close();
  });
});
