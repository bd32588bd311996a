// The page on the wall follows the lesson and comes back after a break; whatever else asks is refused or bounded, and the lesson goes on.
import assert from "node:assert/strict";
import { spawn } from "node:child_process";
import http from "node:http";
import net from "node:net";
import path from "node:path";
import { createInterface } from "node:readline";
import { writeFileSync } from "node:fs";
import { after, before, test } from "node:test";
import { Bench } from "./browser.mjs";

const program = path.resolve(process.env.PULSEWRIGHT_PROGRAM ?? "build/pulsewright");
const source = process.env.PULSEWRIGHT_SOURCE ?? ".";
const codes = Array.from({ length: 40 }, (_, i) => `bird${String(i + 1).padStart(2, "0")}`);
const pause = (ms) => new Promise((resolve) => setTimeout(resolve, ms));

let bench;
before(async () => { bench = await Bench.open(); });
after(async () => bench.close());

// A run over people who all wear what is played again, and the address of its page.
class Run {
  static async start(people, port = 0, ...more) {
    const run = new Run();
    const roster = bench.file("people.csv");
    writeFileSync(roster, "code,age_years,resting_bpm\n" + people.map((code, i) => `${code},${14 + (i % 3)},${i % 10 === 9 ? "" : 58 + i % 20}\n`).join(""));
    const club = ["heron", "plover", "wren"];
    const inputs = people.map((code, i) => `${code}=${path.join(source, "datasets/simulated/club", `${club[i % club.length]}.csv`)}`);
    run.process = spawn(program, ["live", ...inputs, "--replay", "4", "--roster", roster, "--serve", String(port), "--format", "jsonl", ...more],
      { stdio: ["ignore", "pipe", "inherit"] });
    run.seconds = 0;
    run.url = await new Promise((resolve, reject) => {
      createInterface({ input: run.process.stdout }).on("line", (line) => {
        const event = JSON.parse(line);
        if (event.note === "serving") resolve(event.message.slice(event.message.indexOf("http")));
        if (event.event === "second") ++run.seconds;
      });
      run.process.on("exit", (code) => reject(new Error(`ended with ${code}`)));
    });
    run.port = new URL(run.url).port;
    return run;
  }

  async stop() {
    if (this.process.exitCode !== null) return;
    const over = new Promise((resolve) => this.process.on("exit", resolve));
    this.process.kill("SIGTERM");
    await over;
  }
}

async function lookAt(run, { locale = "en" } = {}) {
  const context = await bench.chromium.newContext({ viewport: { width: 1920, height: 1080 }, locale });
  const page = await context.newPage();
  page.complaints = [];
  page.on("console", (message) => ["error", "warning"].includes(message.type()) && page.complaints.push(message.text()));
  page.on("pageerror", (error) => page.complaints.push(error.message));
  page.asked = [];
  page.on("request", (request) => page.asked.push(request.url()));
  await page.goto(run.url);
  return page;
}

const measured = (page) => page.locator("g[data-code]:not(.away)").count();
const waitFor = async (what, holds, patience = 30000) => {
  for (const until = Date.now() + patience; Date.now() < until; await pause(100)) if (await holds()) return;
  assert.fail(what);
};
const status = (options, body) =>
  new Promise((resolve) => {
    const request = http.request({ host: "127.0.0.1", ...options }, (response) => {
      response.resume();
      resolve(response.statusCode);
    });
    request.on("error", () => resolve("refused"));
    request.end(body);
  });

test("forty people are followed smoothly, each on a lane of the one axis, and nothing comes from elsewhere", async () => {
  const run = await Run.start(codes);
  try {
    const page = await lookAt(run);
    await waitFor("most people are measured", async () => (await measured(page)) >= 30);
    assert.equal(await page.locator("g[data-code]").count(), codes.length);
    assert.deepEqual(await page.locator("g[data-code]").evaluateAll((lanes) => lanes.map((lane) => lane.dataset.code)), codes);
    // Without a resting rate there is no reserve: beside the axis, not at its zero.
    const unknown = page.locator('g[data-code="bird10"]');
    assert.match(await unknown.getAttribute("class"), /away/);
    const place = () => page.locator('g[data-code="bird01"] .now').evaluate((dot) => dot.style.transform);
    const was = await place();
    await waitFor("the marker moves", async () => (await place()) !== was);
    const frames = await page.evaluate(() => new Promise((resolve) => {
      const times = [];
      let last = performance.now();
      const tick = (now) => {
        times.push(now - last);
        last = now;
        if (times.length < 240) requestAnimationFrame(tick);
        else resolve(times.slice(5).sort((a, b) => a - b));
      };
      requestAnimationFrame(tick);
    }));
    const at = (share) => frames[Math.floor(share * (frames.length - 1))];
    console.log(`frame times with 40 people: median ${at(0.5).toFixed(1)} ms, 95 % ${at(0.95).toFixed(1)} ms, longest ${at(1).toFixed(1)} ms`);
    assert.ok(at(0.5) < 50, `median frame ${at(0.5)} ms`);
    assert.deepEqual(page.complaints, []);
    for (const url of page.asked) assert.ok(url.startsWith(run.url), url);
    if (process.env.PULSEWRIGHT_PICTURES) await page.screenshot({ path: path.join(process.env.PULSEWRIGHT_PICTURES, "projector.png") });
    await page.context().close();
  } finally {
    await run.stop();
  }
});

test("it shows what is lost as lost, finds the run again, and speaks German", async () => {
  const first = await Run.start(codes.slice(0, 5), 0, "--language", "de", "--leave-out", "bird02");
  const page = await lookAt(first);
  await waitFor("people are measured", async () => (await measured(page)) >= 3);
  assert.equal(await page.locator("html").getAttribute("lang"), "de");
  assert.equal(await page.locator('g[data-code="bird02"]').count(), 0);
  assert.equal(await page.content().then((html) => html.includes("bird02")), false);
  await first.stop();
  await waitFor("nobody is shown as measured", async () => (await measured(page)) === 0);
  assert.match(await page.locator("#trouble").textContent(), /Verbindung/);
  const second = await Run.start(codes.slice(0, 5), Number(first.port), "--language", "de");
  try {
    await waitFor("it follows again", async () => (await measured(page)) >= 3);
    assert.equal(await page.locator("#trouble").textContent(), "");
  } finally {
    await page.context().close();
    await second.stop();
  }
});

test("what is none of its own is refused or bounded, and the lesson goes on", async () => {
  const run = await Run.start(codes.slice(0, 5));
  const { port } = run;
  const own = { port, headers: { Host: `127.0.0.1:${port}` } };
  const page = await lookAt(run);
  const idle = [];
  try {
    assert.equal(await status({ ...own, path: "/" }), 200);
    assert.equal(await status({ port, path: "/", headers: { Host: `127.0.0.1:${port}`, Origin: "http://elsewhere.example" } }), 403);
    assert.equal(await status({ port, path: "/course", headers: { Host: "elsewhere.example" } }), 403);
    assert.equal(await status({ port, path: "/course", headers: { Host: `127.0.0.1:${port}`, "Sec-Fetch-Site": "cross-site" } }), 403);
    assert.equal(await status({ ...own, path: "/../../etc/passwd" }), 404);
    assert.equal(await status({ ...own, path: "/%2e%2e/%2e%2e/etc/passwd" }), 404);
    assert.equal(await status({ ...own, path: "/", method: "POST" }), 405);
    assert.ok([400, 405, 413, "refused"].includes(await status({ ...own, path: "/", method: "POST" }, "x".repeat(1 << 20))));
    assert.ok([400, 414, "refused"].includes(await status({ ...own, path: "/" + "x".repeat(20000) })));
    assert.ok([400, "refused"].includes(await status({ port, path: "/", headers: { Host: `127.0.0.1:${port}`, X: "x".repeat(20000) } })));
    // A client that takes nothing, and two hundred that say nothing.
    const slow = net.connect(port, "127.0.0.1");
    slow.on("error", () => {});
    slow.pause();
    slow.write(`GET /course HTTP/1.1\r\nHost: 127.0.0.1:${port}\r\n\r\n`);
    idle.push(slow);
    for (let i = 0; i < 200; ++i) {
      const socket = net.connect(port, "127.0.0.1");
      socket.on("error", () => {});
      idle.push(socket);
    }
    const [clock, seconds] = [await page.locator("#clock").textContent(), run.seconds];
    await pause(3000);
    assert.notEqual(await page.locator("#clock").textContent(), clock);
    assert.ok(run.seconds > seconds + 20, "the lesson goes on");
    for (const socket of idle) socket.destroy();
    await waitFor("it answers again", async () => (await status({ ...own, path: "/" })) === 200, 40000);
    // A flood is thinned out.
    const answers = await Promise.all(Array.from({ length: 120 }, () => status({ ...own, path: "/" })));
    assert.ok(answers.includes(429), String(new Set(answers)));
    // Streams are counted.
    const streams = [];
    await pause(3000);
    for (let i = 0; i < 12; ++i)
      streams.push(new Promise((resolve) => {
        const request = http.get({ ...own, host: "127.0.0.1", path: "/course" }, (response) => resolve([response.statusCode, request]));
        request.on("error", () => resolve(["refused", request]));
      }));
    const opened = await Promise.race([Promise.all(streams), pause(8000).then(() => [])]);
    assert.ok(opened.filter(([code]) => code === 503).length >= 3, JSON.stringify(opened.map(([code]) => code)));
    for (const [, request] of opened) request.destroy();
  } finally {
    for (const socket of idle) socket.destroy();
    await page.context().close();
    await run.stop();
  }
});

test("beyond this machine only who knows the token is answered", async () => {
  const run = await Run.start(codes.slice(0, 2), 0, "--serve-at", "0.0.0.0");
  try {
    const token = new URL(run.url).searchParams.get("token");
    assert.match(token, /^[0-9a-f]{32}$/);
    const { port } = run;
    const host = { Host: `127.0.0.1:${port}` };
    assert.equal(await status({ port, headers: host, path: "/" }), 403);
    assert.equal(await status({ port, headers: host, path: `/?token=${token.slice(0, 31)}0x` }), 403);
    assert.equal(await status({ port, headers: host, path: `/course?token=` }), 403);
    assert.equal(await status({ port, headers: host, path: `/?token=${token}` }), 200);
  } finally {
    await run.stop();
  }
});
