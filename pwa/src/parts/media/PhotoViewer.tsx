import type { ComponentChildren } from 'preact'
import { Back, Onward } from '../controls/icons.tsx'
import { say } from '../words/say.ts'
import { useZoom, type ZoomProps } from './useZoom.ts'
import './media.css'

export interface PhotoViewerProps extends ZoomProps {
  /** What the picture shows, in words. */
  alt: string
  /** Drawn over the picture in its own frame, such as marks stored beside the original. */
  children?: ComponentChildren
}

/**
 * A picture edge to edge. Two fingers, the wheel, a double touch or + and - enlarge it up to its own pixels and beyond;
 * one finger moves it; arrow keys go to the neighbour while the whole is shown and move it when enlarged; 0 shows the whole, 1 its own pixels.
 */
export function PhotoViewer({ src, alt, onPrevious, onNext, children }: PhotoViewerProps) {
  const { frame, view, enlarged, setSize, key, wheel, turn, fingers } = useZoom({ src, onPrevious, onNext })
  return (
    <div class="glass column" role="group" aria-label={say('viewer.picture')}>
      <div
        class="viewer-frame ring-inside"
        ref={frame}
        tabIndex={0}
        role="group"
        aria-label={say('viewer.keys')}
        onKeyDown={key}
        onPointerDown={fingers.down}
        onPointerMove={fingers.move}
        onPointerUp={fingers.up}
        onPointerCancel={fingers.up}
        onWheel={wheel}
      >
        <div class="viewer-picture laid-over" style={{ transform: `translate(${view.x}px, ${view.y}px) scale(${view.scale})` }}>
          <img class="whole"
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
          <button type="button" aria-label={say('viewer.previous')} disabled={!onPrevious} onClick={() => onPrevious?.()}>
            <Back size={24} />
          </button>
        )}
        <button type="button" onClick={() => turn()}>
          {enlarged ? say('viewer.whole') : say('viewer.zoom_in')}
        </button>
        {onNext !== undefined && (
          <button type="button" aria-label={say('viewer.next')} disabled={!onNext} onClick={() => onNext?.()}>
            <Onward size={24} />
          </button>
        )}
      </div>
    </div>
  )
}
