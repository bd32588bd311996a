// Nothing leaves the machine: whatever script ran in the page, no request reaches a server that listens for it. (For a frame and a form Chromium opens a connection before it asks
// the policy, and then sends nothing.) Nothing is kept unless asked for.
import assert from "node:assert/strict";
import { readFileSync, writeFileSync } from "node:fs";
import { createServer } from "node:http";
import { after, before, test } from "node:test";
import { assertNothingLeft, Bench, built, path, report, simulated } from "./page.mjs";

let bench, server, address, unguarded, arrived = 0;
before(async () => {
  bench = await Bench.open();
  unguarded = bench.file("unguarded.html");
  writeFileSync(unguarded, readFileSync(built, "utf8").replace(/<meta http-equiv="Content-Security-Policy"[^>]*>/, ""));
  server = createServer((request, response) => response.end(String(++arrived))).on("upgrade", (request, socket) => ++arrived && socket.destroy()).listen(0, "127.0.0.1");
  await new Promise((resolve) => server.once("listening", resolve));
  address = `http://127.0.0.1:${server.address().port}/`;
});
after(async () => {
  await bench.close();
  server.closeAllConnections();
  server.close();
});

// Each tries to reach the server, and says nothing of whether it did.
const ways = {
  fetch: (to) => void fetch(to, { mode: "no-cors" }).catch(() => {}),
  request: (to) => {
    const request = new XMLHttpRequest();
    request.open("GET", to);
    request.send();
  },
  beacon: (to) => void navigator.sendBeacon(to, "x"),
  socket: (to) => void new WebSocket(to.replace("http", "ws")),
  events: (to) => void new EventSource(to),
  picture: (to) => void (new Image().src = to),
  frame: (to) => document.body.append(Object.assign(document.createElement("iframe"), { src: to })),
  style: (to) => document.head.append(Object.assign(document.createElement("link"), { rel: "stylesheet", href: to })),
  script: (to) => document.head.append(Object.assign(document.createElement("script"), { src: to })),
  form: (to) => {
    const form = Object.assign(document.createElement("form"), { action: to, method: "post", target: "_blank" });
    document.body.append(form);
    form.submit();
  },
  worker: (to) => void new Worker(URL.createObjectURL(new Blob([`fetch("${to}", { mode: "no-cors" }).catch(() => {})`]))),
};

for (const [name, way] of Object.entries(ways))
  test(`no way out of the page: ${name}`, async () => {
    // The same page without its policy lets it through, so that it is the policy that stops it.
    const open = await bench.page({ file: unguarded });
    arrived = 0;
    await open.evaluate(way, address).catch(() => {});
    await open.waitForTimeout(500);
    assert.ok(arrived > 0, "without the policy it gets through");
    await open.context().close();

    const page = await bench.page();
    arrived = 0;
    await page.evaluate(way, address).catch(() => {});
    await page.waitForTimeout(500);
    assert.equal(arrived, 0, "with it nothing arrives");
    await page.context().close();
  });

test("a whole report asks for nothing and leaves nothing behind", async () => {
  const page = await bench.page();
  await report(page, [path.join(simulated, "heron_rest_ecg.csv")], { Code: "heron" });
  assert.deepEqual(await page.evaluate(async () => ({
    local: Object.keys(localStorage), session: Object.keys(sessionStorage), cookies: document.cookie, databases: (await indexedDB.databases()).length,
  })), { local: [], session: [], cookies: "", databases: 0 });
  assertNothingLeft(page);
  await page.context().close();
});
