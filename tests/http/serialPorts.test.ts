// The serial ports offered on the page and by `bobweight rigs`.
import { afterEach, describe, expect, it, vi } from "vitest";
import { serialPorts } from "../../server/commands/rigs.ts";

afterEach(() => {
  vi.restoreAllMocks();
});

describe("serial ports", () => {
  it("are none, and standard error says why, where the system cannot list them", async () => {
    const said = vi.spyOn(process.stderr, "write").mockReturnValue(true);
    const list = () => Promise.reject(new Error("spawn udevadm ENOENT"));
    expect(await serialPorts(list)).toEqual([]);
    expect(said).toHaveBeenCalledOnce();
    expect(said.mock.calls[0]?.[0]).toMatch(/udevadm ENOENT.*--rig/);
  });

  it("are named by path, with who made them where that is known", async () => {
    const blank = { pnpId: undefined, locationId: undefined, productId: undefined };
    const port = { ...blank, vendorId: undefined, serialNumber: undefined };
    const ports = [
      { ...port, path: "/dev/ttyUSB0", manufacturer: "Invented", serialNumber: "7" },
      { ...port, path: "/dev/ttyS0", manufacturer: undefined },
    ];
    expect(await serialPorts(() => Promise.resolve(ports))).toEqual([
      { path: "/dev/ttyUSB0", note: "Invented 7" },
      { path: "/dev/ttyS0", note: "" },
    ]);
  });
});
