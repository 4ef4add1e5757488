import { useMemo } from 'preact/hooks'
import { measure } from '../capture/index.ts'
import { Choice, Field } from '../parts/Field.tsx'
import { Keypad } from '../parts/Keypad.tsx'
import { type Job, type Row, timeline } from '../store/index.ts'
import { Act, BackAct, Screen, Told } from './Frame.tsx'
import { lastUsed, remember } from './hand.ts'
import { Points } from './Points.tsx'
import { nameOfPlace, pointsOf } from './places.ts'
import { quantitiesFor, quantityWords, unitsFor } from './quantities.ts'
import { standsAs } from './readAs.ts'
import { useAsked } from './useAsked.ts'
import { useDraft } from './useDraft.ts'
import { goTo, useType, useWhere } from './useJob.ts'
import { useSaving } from './useSaving.ts'

const BLANK = { value: '', quantity: '', unit: '', gauge: '', remark: '' }

/** One reading: what it is of, the figure as it stands on the gauge, its unit, and the gauge, which is remembered. */
export function Measure({ job }: { job: Job }) {
  const at = useWhere(job)
  const type = useType(job)
  const part = at.place.split('/')[0] ?? ''
  const draft = useDraft(`measure/${job.id}`, BLANK)
  const { told, busy, keep } = useSaving()
  const offered = useMemo(() => quantitiesFor(part), [part])
  const v = draft.value
  const quantity = v.quantity || lastUsed(`quantity/${part}`) || offered[0]?.code || ''
  const units = unitsFor(quantity)
  const unit = v.unit && units.includes(v.unit) ? v.unit : units.includes(lastUsed(`unit/${quantity}`)) ? lastUsed(`unit/${quantity}`) : (units[0] ?? '')
  const gauge = v.gauge || lastUsed(`gauge/${quantity}`)
  const before = useAsked<Row[]>([], () => timeline(job.id, { kinds: ['measured'], place: at.place || undefined, limit: 4 }), [job.id, at.place])
  const save = async () => {
    const reading = { quantity, value: v.value, unit, gauge: gauge.trim(), remark: v.remark.trim() }
    const next = type && at.point ? pointAfter(pointsOf(type, at.place), at.point) : ''
    const saved = await keep(() => measure(at, reading), `Saved: ${v.value} ${unit}.${next ? ` Next: ${next}.` : ''}`)
    if (!saved) return
    remember(`quantity/${part}`, quantity)
    remember(`unit/${quantity}`, unit)
    remember(`gauge/${quantity}`, reading.gauge)
    await draft.done()
    if (next) goTo(job, at.place, next)
  }
  const ready = /\d/.test(v.value) && Boolean(quantity)
  return (
    <Screen
      title={`Measure, ${nameOfPlace(job, at.place, at.point)}`}
      quiet
      job={job}
      full
      acts={
        <>
          <BackAct />
          <Act name={busy ? 'Saving' : 'Keep, next'} main off={busy || !ready} onAct={() => void save()} />
        </>
      }
    >
      <div class="measure">
        <Choice
          label="What is measured"
          options={offered.map((q) => ({ value: q.code, words: q.short }))}
          chosen={[quantity]}
          onChoose={(code) => draft.change({ quantity: code, unit: '' })}
        />
        {type && <Points job={job} type={type} />}
        <div class="reading">
          <input
            class="reading-value figure"
            inputMode="none"
            autoComplete="off"
            aria-label={`Value, ${quantityWords(quantity)}`}
            value={v.value}
            placeholder="0"
            onInput={(event) => draft.change({ value: event.currentTarget.value.replace(',', '.').replace(/[^\d.+-]/g, '') })}
          />
          <label class="reading-unit">
            <span class="unseen">Unit</span>
            <select value={unit} onChange={(event) => draft.change({ unit: event.currentTarget.value })}>
              {units.map((u) => (
                <option key={u} value={u}>
                  {u || 'count'}
                </option>
              ))}
            </select>
          </label>
        </div>
        <div class="reading-with">
          <Field label="Gauge" value={gauge} onValue={(text) => draft.change({ gauge: text })} />
          <Field label="Remark" value={v.remark} onValue={(remark) => draft.change({ remark })} />
        </div>
        <Told words={told.words} wrong={told.wrong} />
        <Readings rows={before} />
      </div>
      <Keypad value={v.value} onValue={(value) => draft.change({ value })} sign />
    </Screen>
  )
}

/** The point after the one just read, in the order they are offered; '' after the last. */
function pointAfter(points: readonly string[], point: string): string {
  return points[points.indexOf(point) + 1] ?? ''
}

function Readings({ rows }: { rows: Row[] }) {
  if (rows.length === 0) return null
  return (
    <ul class="readings" aria-label="Readings here, newest first">
      {rows.map((row) => {
        const { value, unit, quantity } = standsAs(row) as Record<string, string>
        return (
          <li key={row.id} class={row.withdrawn ? 'is-withdrawn' : ''}>
            <span class="figure">{value}</span> {unit} <span class="small soft">{row.point || quantityWords(quantity ?? '')}</span>
          </li>
        )
      })}
    </ul>
  )
}
