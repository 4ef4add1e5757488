// How a picture is moved and enlarged inside its frame: pure arithmetic, so that it can be checked without a screen.

export interface View {
  /** 1 shows the whole picture. */
  scale: number
  /** Shift of the picture's centre from the frame's centre, in CSS pixels. */
  x: number
  y: number
}

export interface Size {
  w: number
  h: number
}

export const WHOLE: View = { scale: 1, x: 0, y: 0 }

/** Size at which the whole picture just fits the frame. */
export function fitted(picture: Size, frame: Size): Size {
  const by = Math.min(frame.w / picture.w, frame.h / picture.h)
  return { w: picture.w * by, h: picture.h * by }
}

/** The scale at which one pixel of the picture is one pixel of the screen. */
export function ownPixels(picture: Size, frame: Size, ratio: number): number {
  return picture.w / fitted(picture, frame).w / ratio
}

/** The largest scale on offer: twice the picture's own pixels, and never less than twice the whole. */
export function closest(picture: Size, frame: Size, ratio: number): number {
  return Math.max(2, ownPixels(picture, frame, ratio) * 2)
}

/** Keeps the picture over the frame: no edge of it comes inside while it is larger than the frame. */
export function held(view: View, picture: Size, frame: Size, most: number): View {
  const scale = Math.min(Math.max(1, view.scale), most)
  const fit = fitted(picture, frame)
  const reach = (size: number, room: number) => Math.max(0, (size * scale - room) / 2)
  const within = (n: number, limit: number) => Math.min(limit, Math.max(-limit, n))
  return { scale, x: within(view.x, reach(fit.w, frame.w)), y: within(view.y, reach(fit.h, frame.h)) }
}

/** Enlarges about a point of the frame (from its centre), so that what is under the finger stays under it. */
export function about(view: View, point: { x: number; y: number }, by: number): View {
  return { scale: view.scale * by, x: point.x - (point.x - view.x) * by, y: point.y - (point.y - view.y) * by }
}
