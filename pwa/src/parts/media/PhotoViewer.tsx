import type { ComponentChildren } from 'preact'
import { useEffect, useRef, useState } from 'preact/hooks'
import { Back, Onward } from '../controls/icons.tsx'
import { type Size, type View, WHOLE, about, closest, held, ownPixels } from './zoom.ts'

export interface PhotoViewerProps {
  src: string
  /** What the picture shows, in words. */
  alt: string
  onPrevious?: (() => void) | null
  onNext?: (() => void) | null
  /** Drawn over the picture in its own frame, such as marks kept beside the original. */
  children?: ComponentChildren
}

/**
 * A picture edge to edge. Two fingers, the wheel, a double touch or + and - enlarge it up to its own pixels and beyond;
 * one finger moves it; arrow keys go to the neighbour while the whole is shown and move it when enlarged; 0 shows the whole, 1 its own pixels.
 */
export function PhotoViewer({ src, alt, onPrevious, onNext, children }: PhotoViewerProps) {
  const frame = useRef<HTMLDivElement>(null)
  const [size, setSize] = useState<Size | null>(null)
  const [view, setView] = useState<View>(WHOLE)
  const fingers = useRef(new Map<number, { x: number; y: number }>())
  const lastTouch = useRef({ at: 0, x: 0, y: 0 })
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
  const middle = () => {
    const all = [...fingers.current.values()]
    const at = { x: all.reduce((n, f) => n + f.x, 0) / all.length, y: all.reduce((n, f) => n + f.y, 0) / all.length }
    const apart = all.length > 1 ? Math.hypot(all[0]!.x - all[1]!.x, all[0]!.y - all[1]!.y) : 0
    return { at, apart }
  }
  const down = (event: PointerEvent) => {
    frame.current?.setPointerCapture(event.pointerId)
    fingers.current.set(event.pointerId, point(event))
    const now = { at: event.timeStamp, ...point(event) }
    const before = lastTouch.current
    lastTouch.current = now
    if (fingers.current.size === 1 && now.at - before.at < 320 && Math.hypot(now.x - before.x, now.y - before.y) < 30) {
      settle(view.scale > 1.05 ? WHOLE : about(view, now, 3))
    }
  }
  const move = (event: PointerEvent) => {
    if (!fingers.current.has(event.pointerId)) return
    const before = middle()
    fingers.current.set(event.pointerId, point(event))
    const after = middle()
    const shifted = { ...view, x: view.x + after.at.x - before.at.x, y: view.y + after.at.y - before.at.y }
    settle(before.apart && after.apart ? about(shifted, after.at, after.apart / before.apart) : shifted)
  }
  const up = (event: PointerEvent) => fingers.current.delete(event.pointerId)

  const key = (event: KeyboardEvent) => {
    const near = view.scale > 1.05
    const acts: Record<string, () => void> = {
      '+': () => settle(about(view, { x: 0, y: 0 }, 1.5)),
      '=': () => settle(about(view, { x: 0, y: 0 }, 1.5)),
      '-': () => settle(about(view, { x: 0, y: 0 }, 1 / 1.5)),
      '0': () => setView(WHOLE),
      '1': () => size && settle(about(view, { x: 0, y: 0 }, ownPixels(size, room(), window.devicePixelRatio || 1) / view.scale)),
      ArrowLeft: () => (near ? settle({ ...view, x: view.x + 80 }) : onPrevious?.()),
      ArrowRight: () => (near ? settle({ ...view, x: view.x - 80 }) : onNext?.()),
      ArrowUp: () => near && settle({ ...view, y: view.y + 80 }),
      ArrowDown: () => near && settle({ ...view, y: view.y - 80 }),
    }
    const act = acts[event.key]
    if (!act || event.ctrlKey || event.metaKey || event.altKey) return
    event.preventDefault()
    act()
  }

  return (
    <div class="viewer" role="group" aria-label="Picture">
      <div
        class="viewer-frame"
        ref={frame}
        tabIndex={0}
        role="group"
        aria-label="Enlarge with plus and minus, the whole with 0"
        onKeyDown={key}
        onPointerDown={down}
        onPointerMove={move}
        onPointerUp={up}
        onPointerCancel={up}
        onWheel={(event) => {
          event.preventDefault()
          settle(about(view, point(event), Math.exp(-event.deltaY / 400)))
        }}
      >
        <div class="viewer-picture" style={{ transform: `translate(${view.x}px, ${view.y}px) scale(${view.scale})` }}>
          <img
            src={src}
            alt={alt}
            draggable={false}
            onLoad={(event) => setSize({ w: event.currentTarget.naturalWidth, h: event.currentTarget.naturalHeight })}
          />
          {children}
        </div>
      </div>
      <div class="viewer-bar">
        {onPrevious !== undefined && (
          <button type="button" aria-label="Previous picture" disabled={!onPrevious} onClick={() => onPrevious?.()}>
            <Back size={24} />
          </button>
        )}
        <button type="button" onClick={() => settle(view.scale > 1.05 ? WHOLE : about(view, { x: 0, y: 0 }, 3))}>
          {view.scale > 1.05 ? 'Whole picture' : 'Closer'}
        </button>
        {onNext !== undefined && (
          <button type="button" aria-label="Next picture" disabled={!onNext} onClick={() => onNext?.()}>
            <Onward size={24} />
          </button>
        )}
      </div>
    </div>
  )
}
