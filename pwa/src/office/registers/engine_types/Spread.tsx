import { useState } from 'preact/hooks'
import { Choice, Field } from '../../../parts/controls/Field.tsx'
import type { Fastener } from '../../../trade/engine/parts.ts'
import { count } from '../../frame/words.ts'
import { between, grid, ring } from './spread.ts'

interface Props {
  name: string
  /** How many stand there now, and would be replaced. */
  present: number
  take: (fasteners: Fastener[]) => void
}

const START = { rows: '2', columns: '4', along: '100', across: '90', count: '8', diameter: '160', start: '0' }
type Typed = typeof START

/** Fasteners by rows and columns or round a circle, in place of those there are. */
export function Spread({ name, present, take }: Props) {
  const [way, setWay] = useState<'grid' | 'ring'>('grid')
  const [typed, setTyped] = useState(START)
  const [tried, setTried] = useState(false)
  const made = way === 'grid' ? byRows(typed) : byRing(typed)
  const cell = (name: keyof Typed, label: string, least: number, most: number) => ({
    label,
    value: typed[name],
    figures: true,
    keys: 'decimal' as const,
    onValue: (value: string) => setTyped((was) => ({ ...was, [name]: value })),
    wrong: tried && between(typed[name], least, most) === null ? `A number from ${least} to ${most}.` : '',
  })
  return (
    <details class="spread">
      <summary>Place by rows or round a circle</summary>
      <div role="group" aria-label={`Place the fasteners of ${name}`}>
        <Choice
          label="They stand"
          options={[
            { value: 'grid', words: 'in rows' },
            { value: 'ring', words: 'round a circle' },
          ]}
          chosen={[way]}
          onChoose={setWay}
        />
        <div class="spread-cells">
          {way === 'grid' ? (
            <>
              <Field {...cell('rows', 'Rows', 1, 20)} />
              <Field {...cell('columns', 'In each row', 1, 40)} />
              <Field {...cell('along', 'Pitch along, mm', 1, 2000)} />
              <Field {...cell('across', 'Between rows, mm', 1, 2000)} />
            </>
          ) : (
            <>
              <Field {...cell('count', 'How many', 2, 100)} />
              <Field {...cell('diameter', 'Bolt circle, mm across', 10, 5000)} />
              <Field {...cell('start', 'First, degrees from the top', 0, 360)} />
            </>
          )}
        </div>
        <button
          type="button"
          onClick={() => {
            setTried(true)
            if (made && made.length <= 200) take(made)
          }}
        >
          {made ? `Place ${count(made.length, 'fastener')}` : 'Place them'}
          {present > 0 && ` instead of ${present}`}
        </button>
      </div>
    </details>
  )
}

function byRows(typed: Typed): Fastener[] | null {
  const [rows, columns] = [whole(typed.rows, 20), whole(typed.columns, 40)]
  const [along, across] = [between(typed.along, 1, 2000), between(typed.across, 1, 2000)]
  return rows && columns && along && across ? grid({ rows, columns, along, across }) : null
}

function byRing(typed: Typed): Fastener[] | null {
  const [n, diameter, start] = [whole(typed.count, 100), between(typed.diameter, 10, 5000), between(typed.start, 0, 360)]
  return n && n > 1 && diameter && start !== null ? ring({ count: n, diameter, start }) : null
}

function whole(text: string, most: number): number | null {
  const n = between(text, 1, most)
  return n !== null && Number.isInteger(n) ? n : null
}
