import { useRef } from 'preact/hooks'
import { type Drawing, type Outline, type Spot, neighbour } from './engine_layout.ts'
import { MOST_STROKES, tallyPath, tallyWidth } from '../controls/tally.ts'
import { say } from '../words/say.ts'
import './engine.css'

export interface EngineDrawingProps {
  /** What is drawn: made by drawingOf() from the engine type's data. */
  drawing: Drawing
  /** What the whole is called, for those who hear it. */
  title: string
  /** The full name of a place, as the workshop calls it. */
  nameOf: (code: string) => string
  chosen?: string | null
  onChoose: (code: string) => void
  /** Records at each place; a place's figure is drawn as strokes. */
  tallies?: Record<string, number>
  /** Places where evidence is still wanted: an open ring. */
  wanted?: ReadonlySet<string>
  /** Places that belong to the chosen one, drawn with a wash. */
  related?: ReadonlySet<string>
}

/**
 * The engine as a drawing whose every place is a button: touch it, tab to it, or step with the arrow keys.
 * The lines are for the eye alone; the buttons lie over them and carry the names.
 */
export function EngineDrawing(props: EngineDrawingProps) {
  const { drawing, title, nameOf, chosen, onChoose, tallies = {}, wanted, related } = props
  const whole = useRef<HTMLDivElement>(null)
  const step = (event: KeyboardEvent, spot: Spot) => {
    const next = neighbour(drawing.spots, spot, event.key)
    if (!next) return
    event.preventDefault()
    event.stopPropagation()
    whole.current?.querySelector<HTMLButtonElement>(`[data-place="${next.code}"]`)?.focus()
  }
  return (
    <div class="engine whole" role="group" aria-label={title} ref={whole} style={{ aspectRatio: `${drawing.width} / ${drawing.height}` }}>
      <svg class="laid-over whole" viewBox={`0 0 ${drawing.width} ${drawing.height}`} aria-hidden="true" focusable="false">
        <Ground drawing={drawing} />
        {drawing.spots.map((spot) => (
          <Mark
            key={spot.code}
            spot={spot}
            chosen={spot.code === chosen}
            near={related?.has(spot.code) ?? false}
            count={tallies[spot.code] ?? 0}
            wanted={wanted?.has(spot.code) ?? false}
          />
        ))}
      </svg>
      {drawing.spots.map((spot) => (
        <button
          key={spot.code}
          type="button"
          class={`engine-place is-${spot.shape}`}
          data-place={spot.code}
          aria-pressed={spot.code === chosen}
          aria-label={spoken(nameOf(spot.code), tallies[spot.code] ?? 0, wanted?.has(spot.code) ?? false)}
          style={over(spot, drawing)}
          onClick={() => onChoose(spot.code)}
          onKeyDown={(event) => step(event, spot)}
        />
      ))}
    </div>
  )
}

/** The full name of a place with what its marks mean. */
export function spoken(name: string, count: number, wanted: boolean): string {
  return [name, count ? say('tally.records', { count }) : '', wanted ? say('engine.wanted') : ''].filter(Boolean).join(', ')
}

function over(spot: Spot, { width, height }: Drawing) {
  const part = (n: number, of: number) => `${((n / of) * 100).toFixed(3)}%`
  return {
    left: part(spot.x - spot.touchW / 2, width),
    top: part(spot.y - spot.touchH / 2, height),
    width: part(spot.touchW, width),
    height: part(spot.touchH, height),
  }
}

function Ground({ drawing }: { drawing: Drawing }) {
  return (
    <g>
      {drawing.outlines.map((o) => (
        <Frame key={o.label} outline={o} />
      ))}
      {drawing.ghosts.map((c) => (
        <circle key={`${c.x} ${c.y}`} class="line-axis" cx={c.x} cy={c.y} r={c.r} />
      ))}
      {drawing.lines.map((l) => (
        <line key={`${l.x1} ${l.y1} ${l.x2} ${l.y2}`} class={`line-${l.sort}`} x1={l.x1} y1={l.y1} x2={l.x2} y2={l.y2} />
      ))}
      <text class="word" x={drawing.front.x} y={drawing.front.y} text-anchor="middle">
        {say('drawing.front')}
      </text>
      {drawing.words?.map((w) => (
        <text class="word is-large" key={w.text} x={w.x} y={w.y} text-anchor="middle">
          {w.text}
        </text>
      ))}
    </g>
  )
}

function Frame({ outline: o }: { outline: Outline }) {
  return (
    <g>
      <rect class="line-thin" x={o.x} y={o.y} width={o.w} height={o.h} />
      <text class="word" x={o.labelX} y={o.labelY} text-anchor="middle">
        {o.label}
      </text>
    </g>
  )
}

interface MarkProps {
  spot: Spot
  chosen: boolean
  near: boolean
  count: number
  wanted: boolean
}

function Mark({ spot, chosen, near, count, wanted }: MarkProps) {
  return (
    <g class={`mark is-${spot.shape}${chosen ? ' is-chosen' : ''}${near ? ' is-near' : ''}`}>
      <Body spot={spot} />
      <Label spot={spot} />
      <Strokes spot={spot} count={count} />
      {wanted && <Ring spot={spot} />}
    </g>
  )
}

function Body({ spot: { shape, x, y, w, h } }: { spot: Spot }) {
  if (shape === 'bolt') return <path class="body" d={hexagon(x, y, w / 2)} />
  if (shape === 'valve' || shape === 'plug') return <circle class="body" cx={x} cy={y} r={w / 2} />
  if (shape !== 'bore') return <rect class="body" x={x - w / 2} y={y - h / 2} width={w} height={h} rx={shape === 'pin' ? 3 : 0} />
  const reach = w / 2 + 7
  return (
    <g>
      <circle class="body" cx={x} cy={y} r={w / 2} />
      <path class="line-axis" d={`M${x - reach} ${y}h${reach - 16}M${x + 16} ${y}h${reach - 16}M${x} ${y - reach}v${reach - 16}M${x} ${y + w / 2 - 4}v11`} />
    </g>
  )
}

function hexagon(x: number, y: number, r: number): string {
  const corners = [0, 1, 2, 3, 4, 5].map((i) => `${(x + r * Math.cos((i * Math.PI) / 3)).toFixed(1)} ${(y + r * Math.sin((i * Math.PI) / 3)).toFixed(1)}`)
  return `M${corners.join('L')}Z`
}

function Label({ spot }: { spot: Spot }) {
  const raised = spot.shape === 'pin' && spot.under ? 4 : -4.5
  return (
    <g>
      <text class="label" x={spot.x} y={spot.y - raised + (spot.shape === 'bore' ? 4 : 0)} text-anchor="middle">
        {spot.label}
      </text>
      {spot.under && (
        <text class="under" x={spot.x} y={spot.y + 12} text-anchor="middle">
          {spot.under}
        </text>
      )}
    </g>
  )
}

function Strokes({ spot, count }: { spot: Spot; count: number }) {
  if (!count) return null
  const inside = spot.shape === 'bore'
  const scale = inside ? 1 : 0.8
  const written = count > (inside ? MOST_STROKES : 10)
  const width = written ? String(count).length * 7.2 : tallyWidth(count) * scale
  const left = spot.x - width / 2
  const y = inside ? spot.y + spot.h * 0.22 : spot.y + spot.h / 2 + 1
  return (
    <g>
      {!inside && <rect class="gap" x={left - 4} y={y + 0.5} width={width + 8} height={10.5} />}
      {written ? (
        <text class="count" x={spot.x} y={y + 11 * scale} text-anchor="middle">
          {count}
        </text>
      ) : (
        <path class="tally-strokes" transform={`translate(${left} ${y + (inside ? 0 : 2)}) scale(${scale})`} d={tallyPath(count, 0, 0)} />
      )}
    </g>
  )
}

function Ring({ spot }: { spot: Spot }) {
  const round = spot.shape === 'bore' || spot.shape === 'valve' || spot.shape === 'bolt'
  const reach = round ? 0.72 : 1
  return <circle class="ring" cx={spot.x + (spot.w / 2) * reach} cy={spot.y - (spot.h / 2) * reach} r="7.5" />
}
