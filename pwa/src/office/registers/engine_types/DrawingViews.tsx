import { useState } from 'preact/hooks'
import { EngineDrawing } from '../../../parts/engine/EngineDrawing.tsx'
import { drawingOf, viewsOf, symbolFor, symbolsFor } from '../../../parts/engine/engine_drawings.ts'
import type { EngineType } from '../../frame/shapes.ts'
import { say } from '../../frame/say.ts'
import { placeName } from '../../../trade/engine/locations.ts'

interface Props {
  type: EngineType
  chosen?: string
  choose?: (code: string) => void
  mating?: string[]
}

/** All views of an engine type's drawing, one at a time. */
export function DrawingViews({ type, chosen = '', choose = () => undefined, mating = [] }: Props) {
  const [wanted, setWanted] = useState('block')
  const views = viewsOf(type)
  const view = views.find(({ code }) => code === wanted) ?? views[0]!
  const drawing = drawingOf(type, view.code, 0, true)
  return (
    <>
      {views.length > 1 && (
        <div class="sheets wraps below-4" role="group" aria-label={say('engine_types.views')}>
          {views.map(({ code, name }) => (
            <button class="small" key={code} type="button" aria-pressed={code === view.code} onClick={() => setWanted(code)}>
              {name}
            </button>
          ))}
        </div>
      )}
      <EngineDrawing
        drawing={drawing}
        title={`${type.name}, ${view.name}`}
        nameOf={(code) => placeName(type, code)}
        chosen={chosen ? symbolFor(drawing, chosen) : null}
        onChoose={choose}
        related={symbolsFor(drawing, mating)}
      />
    </>
  )
}
