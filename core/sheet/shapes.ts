// What a picture is drawn of, in drawing units: x to the right, y down. Pure.

export interface Drawing {
  readonly width: number;
  readonly height: number;
  /** What the picture shows, for those who cannot see it. */
  readonly alt: string;
  /** The first one lies lowest. */
  readonly shapes: readonly Shape[];
}

export type Shape =
  | {
      readonly kind: "path";
      /** As SVG has it: M, L, H, V and Z, absolute. */
      readonly d: string;
      readonly stroke: string;
      readonly width: number;
      /** Empty: solid. */
      readonly dash: readonly number[];
      readonly cap: "butt" | "round";
    }
  | {
      readonly kind: "rect";
      readonly x: number;
      readonly y: number;
      readonly width: number;
      readonly height: number;
      readonly fill: string;
      /** Of its black outline; 0: none. */
      readonly strokeWidth: number;
    }
  /** Black. */
  | { readonly kind: "disc"; readonly x: number; readonly y: number; readonly radius: number }
  | {
      readonly kind: "text";
      /** `y` is the base line. */
      readonly x: number;
      readonly y: number;
      readonly anchor: "start" | "middle" | "end";
      readonly content: string;
      /** Turned a quarter to the left. */
      readonly isUpright: boolean;
      /** Bold, with a white rim that keeps it clear of the curves. */
      readonly isFlag: boolean;
    };
