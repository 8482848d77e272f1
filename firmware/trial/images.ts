// Where the images stand that `npm run test:firmware` builds, and boards that run them.
import { fileURLToPath } from "node:url";
import type { BoardMaker } from "../../sim/standInRig.ts";
import { Image, ImageBoard, TICK_HZ } from "./imageBoard.ts";

/** Pickup edges that an image is built for. */
export type ImageEdges = 1 | 36;

/** Of the built project: this module lies two folders below its `dist/node`. */
const BUILD = new URL("../../../../firmware/build/", import.meta.url);

export function imagePath(edges: ImageEdges): string {
  return fileURLToPath(new URL(`edges${edges}/firmware.elf`, BUILD));
}

export function openImage(edges: ImageEdges, tracePath?: string): Image {
  return new Image(fileURLToPath(new URL("harness", BUILD)), imagePath(edges), tracePath);
}

/**
 * A maker of boards that run the image; `made` is told of each board and its image. One that is asked for
 * while the last still runs is the same chip, powered up anew: its EEPROM keeps what it had.
 */
export function imageBoards(
  edges: ImageEdges,
  made: (board: ImageBoard, image: Image) => void = () => {},
  tracePath?: string,
): BoardMaker {
  let image: Image | null = null;
  return (plant, rig) => {
    if (image === null || image.closed) image = openImage(edges, tracePath);
    else image.next = "powerReturns";
    const board = new ImageBoard(plant, rig, image);
    made(board, image);
    return board;
  };
}

/** What a scenario's rig must be for the firmware as it is configured. */
export function rigFor(edges: ImageEdges): Record<string, unknown> {
  return { tickHz: TICK_HZ, pickupEdges: edges };
}
