import { useState } from 'preact/hooks'
import { EngineDrawing } from '../../../parts/engine/EngineDrawing.tsx'
import { drawingOf, viewsOf, symbolFor, symbolsFor } from '../../../parts/engine/engine_drawings.ts'
import type { EngineType } from '../../frame/shapes.ts'
import { placeName } from '../../../trade/engine/locations.ts'

interface Props {
  type: EngineType
  chosen?: string
  choose?: (code: string) => void
  near?: string[]
}

/** All sheets of an engine type's drawing, one at a time. */
export function SheetsOf({ type, chosen = '', choose = () => undefined, near = [] }: Props) {
  const [wanted, setWanted] = useState('block')
  const sheets = viewsOf(type)
  const sheet = sheets.find((one) => one.code === wanted) ?? sheets[0]!
  const drawing = drawingOf(type, sheet.code, 0, true)
  return (
    <>
      {sheets.length > 1 && (
        <div class="sheets" role="group" aria-label="Sheets of the drawing">
          {sheets.map((one) => (
            <button
              key={one.code}
              type="button"
              aria-pressed={one.code === sheet.code}
              onClick={() => setWanted(one.code)}
            >
              {one.name}
            </button>
          ))}
        </div>
      )}
      <EngineDrawing
        drawing={drawing}
        title={`${type.name}, ${sheet.name}`}
        nameOf={(code) => placeName(type, code)}
        chosen={chosen ? symbolFor(drawing, chosen) : null}
        onChoose={choose}
        related={symbolsFor(drawing, near)}
      />
    </>
  )
}
