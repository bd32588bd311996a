// Where samples come from while they are taken: a serial port, or a belt that speaks the open heart-rate service of Bluetooth (0x180D). Both hand over bytes as the
// library reads them.

export const canSerial = "serial" in navigator;
export const canBluetooth = "bluetooth" in navigator;

/** A sensor on a serial port. `onbytes(Uint8Array)` is told of what comes, `onend()` when it is unplugged. Rejects when none was chosen. */
export async function openSerial({ baud, onbytes, onend }) {
  const port = await navigator.serial.requestPort();
  await port.open({ baudRate: baud });
  const reader = port.readable.getReader();
  let closed = false;
  (async () => {
    try {
      for (;;) {
        const { value, done } = await reader.read();
        if (done) break;
        onbytes(value);
      }
    } catch {
      // Unplugged: the same as an end.
    }
    if (!closed) onend();
  })();
  return {
    name: "serial",
    form: "automatic",
    async close() {
      closed = true;
      await reader.cancel().catch(() => {});
      reader.releaseLock();
      await port.close().catch(() => {});
    },
  };
}

/** A belt over Bluetooth: each packet as a line of hexadecimal digits. */
export async function openBelt({ onbytes, onend }) {
  const device = await navigator.bluetooth.requestDevice({ filters: [{ services: ["heart_rate"] }] });
  const server = await device.gatt.connect();
  const service = await server.getPrimaryService("heart_rate");
  const measurement = await service.getCharacteristic("heart_rate_measurement");
  measurement.addEventListener("characteristicvaluechanged", ({ target: { value } }) => {
    const bytes = new Uint8Array(value.buffer, value.byteOffset, value.byteLength);
    onbytes(new TextEncoder().encode(`${[...bytes].map((byte) => byte.toString(16).padStart(2, "0")).join("")}\n`));
  });
  await measurement.startNotifications();
  let closed = false;
  device.addEventListener("gattserverdisconnected", () => closed || onend());
  return {
    name: "belt",
    form: "packets",
    async close() {
      closed = true;
      device.gatt.disconnect();
    },
  };
}
