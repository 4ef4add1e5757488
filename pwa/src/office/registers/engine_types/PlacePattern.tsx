import { useState } from 'preact/hooks'
import { Choice, Field } from '../../../parts/controls/Field.tsx'
import type { Fastener } from '../../../trade/engine/parts.ts'
import { say } from '../../frame/say.ts'
import { between, grid, ring } from './fastener_lines.ts'

interface Props {
  name: string
  /** How many there are now, and would be replaced. */
  present: number
  place: (fasteners: Fastener[]) => void
}

const START = { rows: '2', columns: '4', along: '100', across: '90', count: '8', diameter: '160', start: '0' }
type Typed = typeof START

const MOST_FASTENERS = 200

/** Fasteners in rows and columns or on a circle, in place of those there are. */
export function PlacePattern({ name, present, place }: Props) {
  const [way, setWay] = useState<'grid' | 'ring'>('grid')
  const [typed, setTyped] = useState(START)
  const [tried, setTried] = useState(false)
  const made = way === 'grid' ? inRows(typed) : onCircle(typed)
  const cell: Cell = (field, label, least, most) => ({
    label,
    value: typed[field],
    figures: true,
    keys: 'decimal',
    onValue: (value: string) => setTyped((before) => ({ ...before, [field]: value })),
    wrong: tried && between(typed[field], least, most) === null ? say('engine_types.number_between', { least: String(least), most: String(most) }) : '',
  })
  return (
    <details class="spread">
      <summary>{say('engine_types.place_pattern')}</summary>
      <div role="group" aria-label={say('engine_types.place_fasteners_of', { name })}>
        <Choice
          label={say('engine_types.pattern')}
          options={[
            { value: 'grid', words: say('engine_types.in_rows') },
            { value: 'ring', words: say('engine_types.on_circle') },
          ]}
          chosen={[way]}
          onChoose={setWay}
        />
        <div class="spread-cells in-grid">{way === 'grid' ? <RowCells cell={cell} /> : <CircleCells cell={cell} />}</div>
        <button
          type="button"
          onClick={() => {
            setTried(true)
            if (made && made.length <= MOST_FASTENERS) place(made)
          }}
        >
          {buttonWords(made?.length ?? null, present)}
        </button>
      </div>
    </details>
  )
}

function buttonWords(count: number | null, present: number): string {
  if (count === null) return present ? say('engine_types.replace_them', { count: present }) : say('engine_types.place_them')
  return present ? say('engine_types.place_instead', { count, present }) : say('engine_types.place_count', { count })
}

type Cell = (
  field: keyof Typed,
  label: string,
  least: number,
  most: number,
) => { label: string; value: string; figures: boolean; keys: 'decimal'; onValue: (value: string) => void; wrong: string }

function RowCells({ cell }: { cell: Cell }) {
  return (
    <>
      <Field {...cell('rows', say('engine_types.rows'), 1, 20)} />
      <Field {...cell('columns', say('engine_types.per_row'), 1, 40)} />
      <Field {...cell('along', say('engine_types.pitch_along'), 1, 2000)} />
      <Field {...cell('across', say('engine_types.row_distance'), 1, 2000)} />
    </>
  )
}

function CircleCells({ cell }: { cell: Cell }) {
  return (
    <>
      <Field {...cell('count', say('engine_types.how_many'), 2, 100)} />
      <Field {...cell('diameter', say('engine_types.bolt_circle'), 10, 5000)} />
      <Field {...cell('start', say('engine_types.first_angle'), 0, 360)} />
    </>
  )
}

function inRows(typed: Typed): Fastener[] | null {
  const [rows, columns] = [whole(typed.rows, 20), whole(typed.columns, 40)]
  const [along, across] = [between(typed.along, 1, 2000), between(typed.across, 1, 2000)]
  return rows && columns && along && across ? grid({ rows, columns, along, across }) : null
}

function onCircle(typed: Typed): Fastener[] | null {
  const [count, diameter, start] = [whole(typed.count, 100), between(typed.diameter, 10, 5000), between(typed.start, 0, 360)]
  return count && count > 1 && diameter && start !== null ? ring({ count, diameter, start }) : null
}

function whole(text: string, most: number): number | null {
  const n = between(text, 1, most)
  return n !== null && Number.isInteger(n) ? n : null
}
