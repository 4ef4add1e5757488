import { useId } from 'preact/hooks'
import { Bore, Housing, Journal } from './grid_views.tsx'
import { Face, Lobe, Pin } from './grid_views_flat.tsx'
import { say } from '../words/say.ts'
import type { GridDrawingProps } from './grid_props.ts'
import './grid.css'

const VIEWS = { bore: Bore, journal: Journal, housing: Housing, face: Face, lobe: Lobe, pin: Pin }

export const isDrawn = (drawing: string): drawing is keyof typeof VIEWS => Object.hasOwn(VIEWS, drawing)

/** The part in section and in plan, with the place where the gauge goes next lit, and named for a screen reader. */
export function GridDrawing({ drawing, axes, readings, next, taken }: GridDrawingProps) {
  const id = useId()
  const View = isDrawn(drawing) ? VIEWS[drawing] : null
  const beside = next !== '' && axes.length > 0 && !isOfGrid(axes, next)
  const at = next === '' ? [] : beside ? [-1] : positions(axes, next)
  const words = readings.find((r) => r.code === next)?.words
  if (!View) return null
  return (
    <svg class="grid-drawing whole" viewBox="0 0 160 148" role="img" aria-label={words ? say('grid.next', { reading: words }) : say('grid.nothing_next')}>
      <View axes={axes} code={next} next={at} has={(code) => taken.has(code)} id={id.replace(/:/g, '')} />
    </svg>
  )
}

function positions(axes: GridDrawingProps['axes'], code: string): number[] {
  const parts = code.split('/')
  return axes.map(({ values }, i) => values.findIndex((v) => v.code === parts[i]))
}

const isOfGrid = (axes: GridDrawingProps['axes'], code: string) => positions(axes, code).every((at) => at >= 0) && code.split('/').length === axes.length
