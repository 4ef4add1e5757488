// Enlarging and moving a picture in its frame by fingers, wheel and keys.
import { useEffect, useRef, useState } from 'preact/hooks'
import { type Size, type View, WHOLE, about, closest, held, ownPixels } from './zoom.ts'

const DOUBLE_TOUCH = { ms: 320, px: 30 }
const CENTRE = { x: 0, y: 0 }
const ENLARGED = 1.05
const STEP = 80

export interface ZoomProps {
  src: string
  onPrevious?: (() => void) | null
  onNext?: (() => void) | null
}

export function useZoom({ src, onPrevious, onNext }: ZoomProps) {
  const frame = useRef<HTMLDivElement>(null)
  const [size, setSize] = useState<Size | null>(null)
  const [view, setView] = useState<View>(WHOLE)
  useEffect(() => setView(WHOLE), [src])
  const room = (): Size => ({ w: frame.current?.clientWidth || 1, h: frame.current?.clientHeight || 1 })
  const settle = (next: View) => {
    const picture = size ?? room()
    setView(held(next, picture, room(), closest(picture, room(), window.devicePixelRatio || 1)))
  }
  const point = (event: { clientX: number; clientY: number }) => {
    const box = frame.current!.getBoundingClientRect()
    return { x: event.clientX - box.left - box.width / 2, y: event.clientY - box.top - box.height / 2 }
  }
  const enlarged = view.scale > ENLARGED
  const key = (event: KeyboardEvent) => {
    const acts: Record<string, () => void> = {
      '+': () => settle(about(view, CENTRE, 1.5)),
      '=': () => settle(about(view, CENTRE, 1.5)),
      '-': () => settle(about(view, CENTRE, 1 / 1.5)),
      '0': () => setView(WHOLE),
      '1': () => size && settle(about(view, CENTRE, ownPixels(size, room(), window.devicePixelRatio || 1) / view.scale)),
      ArrowLeft: () => (enlarged ? settle({ ...view, x: view.x + STEP }) : onPrevious?.()),
      ArrowRight: () => (enlarged ? settle({ ...view, x: view.x - STEP }) : onNext?.()),
      ArrowUp: () => enlarged && settle({ ...view, y: view.y + STEP }),
      ArrowDown: () => enlarged && settle({ ...view, y: view.y - STEP }),
    }
    const act = acts[event.key]
    if (!act || event.ctrlKey || event.metaKey || event.altKey) return
    event.preventDefault()
    act()
  }
  const turn = (at = CENTRE) => settle(enlarged ? WHOLE : about(view, at, 3))
  const wheel = (event: WheelEvent) => {
    event.preventDefault()
    settle(about(view, point(event), Math.exp(-event.deltaY / 400)))
  }
  return { frame, view, enlarged, setSize, key, wheel, turn, fingers: useFingers(frame, view, settle, point, turn) }
}

type Point = { x: number; y: number }

/** One finger moves the picture, two enlarge it about the point between them, a double touch turns from whole to near. */
function useFingers(frame: { current: HTMLDivElement | null }, view: View, settle: (next: View) => void, point: (event: PointerEvent) => Point, turn: (at: Point) => void) {
  const fingers = useRef(new Map<number, Point>())
  const lastTouch = useRef({ at: 0, x: 0, y: 0 })
  const middle = () => {
    const all = [...fingers.current.values()]
    const at = { x: all.reduce((n, f) => n + f.x, 0) / all.length, y: all.reduce((n, f) => n + f.y, 0) / all.length }
    const apart = all.length > 1 ? Math.hypot(all[0]!.x - all[1]!.x, all[0]!.y - all[1]!.y) : 0
    return { at, apart }
  }
  return {
    down: (event: PointerEvent) => {
      frame.current?.setPointerCapture(event.pointerId)
      fingers.current.set(event.pointerId, point(event))
      const now = { at: event.timeStamp, ...point(event) }
      const before = lastTouch.current
      lastTouch.current = now
      const again = now.at - before.at < DOUBLE_TOUCH.ms && Math.hypot(now.x - before.x, now.y - before.y) < DOUBLE_TOUCH.px
      if (fingers.current.size === 1 && again) turn(now)
    },
    move: (event: PointerEvent) => {
      if (!fingers.current.has(event.pointerId)) return
      const before = middle()
      fingers.current.set(event.pointerId, point(event))
      const after = middle()
      const shifted = { ...view, x: view.x + after.at.x - before.at.x, y: view.y + after.at.y - before.at.y }
      settle(before.apart && after.apart ? about(shifted, after.at, after.apart / before.apart) : shifted)
    },
    up: (event: PointerEvent) => void fingers.current.delete(event.pointerId),
  }
}
