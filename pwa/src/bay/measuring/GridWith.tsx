import { useState } from 'preact/hooks'
import { Choice, Field } from '../../parts/controls/Field.tsx'
import { Sheet } from '../../parts/controls/Sheet.tsx'
import materials from '../../../../server/witnessmark/trade/data/materials.json'
import { type Job, known } from '../../store/index.ts'
import { readQuantity } from '../../trade/ground/units.ts'
import { type GaugeRow, gaugesFor, overdueWords } from './gauges.ts'
import type { Walk } from './grid.ts'
import { prefer, hand } from '../frame/hand.ts'
import { states, type GaugeInHand, changeWith, takeGauge, withOf } from './useWith.ts'
import { sentence } from '../frame/words.ts'
import { say } from '../frame/say.ts'

export type WithWhat = 'gauge' | 'state' | 'temperature' | 'order' | 'unit'

/** The register, those that can read it first; one touch takes one in hand and puts the sheet away. */
export function GaugeSheet(props: { procedure: string; quantity: string; amount: string; unit: string; now: GaugeInHand; onClose: () => void }) {
  const { procedure, quantity, now, onClose } = props
  const [name, setName] = useState(now.id ? '' : now.name)
  const gauges = gaugesFor(known.value, quantity, props.amount, props.unit)
  const take = (gauge: GaugeInHand) => {
    takeGauge(procedure, quantity, gauge)
    onClose()
  }
  const row = (gauge: GaugeRow) => (
    <li key={gauge.id}>
      <button type="button" aria-pressed={gauge.id === now.id} onClick={() => take({ id: gauge.id, name: gauge.name })}>
        <strong>{gauge.name}</strong>
        <span class="small">{gauge.facts}</span>
        {gauge.overdue && <span class="small gauge-due bold">{gauge.overdue}</span>}
        {gauge.not && <span class="small">{gauge.not}</span>}
      </button>
    </li>
  )
  const usable = gauges.filter((g) => !g.not)
  const others = gauges.filter((g) => g.not)
  return (
    <Sheet title={say('gauge.title')} onClose={onClose}>
      {usable.length > 0 ? <ul class="gauges">{usable.map(row)}</ul> : <p class="soft">{say('gauge.none')}</p>}
      <form
        class="own-word"
        onSubmit={(event) => {
          event.preventDefault()
          take({ id: '', name: name.trim() })
        }}
      >
        <Field label={say('gauge.other')} value={name} onValue={setName} />
        <button type="submit">{say('common.use')}</button>
      </form>
      {others.length > 0 && (
        <details class="place-group">
          <summary>{say('gauge.rest')}</summary>
          <ul class="gauges">{others.map(row)}</ul>
        </details>
      )}
    </Sheet>
  )
}

export interface WithSheetProps {
  job: Job
  code: string
  /** The order of the walk and the remark on the next reading: where there is a grid to walk. */
  walk?: Walk
  remark?: string
  onRemark?: (remark: string) => void
  /** What the part is made of, by its code, as the workshop described it. */
  material?: string
  onClose: () => void
}

/** State, temperatures, order: given once and standing until changed. */
export function WithSheet({ job, code, walk, remark, onRemark, material = '', onClose }: WithSheetProps) {
  const w = withOf(job)
  return (
    <Sheet title={say('with.title')} onClose={onClose}>
      <div class="form">
        <Choice label={say('with.state')} options={states()} chosen={[w.state]} onChoose={(state) => changeWith(job, { state })} />
        <p class="small soft">{say('with.about')}</p>
        <Temperature label={say('with.part_temperature')} value={w.part_temperature} onValue={(part_temperature) => changeWith(job, { part_temperature })} />
        <Temperature label={say('with.gauge_temperature')} value={w.gauge_temperature} onValue={(gauge_temperature) => changeWith(job, { gauge_temperature })} />
        <Field
          label={say('with.material')}
          value={w.material || material}
          onValue={(material) => changeWith(job, { material })}
          options={[{ value: '', words: say('with.no_material') }, ...materials.materials.map((m) => ({ value: m.code, words: m.words }))]}
        />
        {onRemark && <Field label={say('with.remark')} value={remark ?? ''} onValue={onRemark} />}
        {walk && (
          <Choice<Walk>
            label={say('with.order')}
            options={[
              { value: 'place', words: say('with.by_place') },
              { value: 'reading', words: say('with.by_reading') },
            ]}
            chosen={[walk]}
            onChoose={(next) => prefer({ last: { ...hand.value.last, [`walk/${code}`]: next } })}
          />
        )}
        <button type="button" class="wide main-act" onClick={onClose}>
          {say('common.done')}
        </button>
      </div>
    </Sheet>
  )
}

/** '24.5 °C' from what is typed; for what cannot be read the field says why, and nothing changes. */
function Temperature({ label, value, onValue }: { label: string; value: string; onValue: (text: string) => void }) {
  const [text, setText] = useState(value)
  const [wrong, setWrong] = useState('')
  const take = (next: string) => {
    setText(next)
    setWrong('')
    if (!next.trim()) return onValue('')
    try {
      const { unit } = readQuantity('temperature', next)
      onValue(`${next.trim().replace(/\s*[^0-9\s.,+\-\u2212][^0-9]*$/u, '')} ${unit}`)
    } catch (fault) {
      onValue('')
      setWrong(sentence(fault))
    }
  }
  return <Field label={label} value={text} onValue={take} keys="decimal" figures wrong={wrong} />
}

/** What stands in the cells above the drawing: gauge, state and temperature, each a touch away. */
export function WithRow(props: { job: Job; gauge: GaugeInHand; onOpen: (what: WithWhat) => void }) {
  const w = withOf(props.job)
  const due = overdueWords(known.value, props.gauge.id)
  return (
    <div class="with-row">
      <button type="button" class={due ? 'cell is-alert' : 'cell'} onClick={() => props.onOpen('gauge')}>
        <span class="cell-label">{due || say('with.gauge')}</span> <span class="cell-value">{props.gauge.name || say('common.choose')}</span>
      </button>
      <button type="button" class="cell" onClick={() => props.onOpen('state')}>
        <span class="cell-label">{states().find((s) => s.value === w.state)?.words}</span> <span class="cell-value">{w.part_temperature || say('with.no_temperature')}</span>
      </button>
    </div>
  )
}
