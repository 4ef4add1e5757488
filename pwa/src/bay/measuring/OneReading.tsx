import { useMemo, useState } from 'preact/hooks'
import { measure } from '../../capture/index.ts'
import { Choice, Field } from '../../parts/controls/Field.tsx'
import { FigureKeys } from '../../parts/controls/FigureKeys.tsx'
import { type Job, type Row, timeline } from '../../store/index.ts'
import { Act, BackAct, Screen, Told } from '../frame/Frame.tsx'
import { GaugeSheet, WithRow, WithSheet, type WithWhat } from './GridWith.tsx'
import { Points } from '../job/Points.tsx'
import { SpokenMeasure, SpokenReadingActs, SpokenReadingTold, useSpokenReading } from './SpokenMeasure.tsx'
import { TalkAct } from '../speaking/SpokenPanel.tsx'
import { typed } from './grid.ts'
import { lastUsed, remember } from '../frame/hand.ts'
import { nameOfPlace, pointsOf } from '../frame/places.ts'
import { quantitiesFor, quantityWords, unitsFor } from '../frame/quantities.ts'
import { standingOf } from '../job/readAs.ts'
import { useAsked } from '../frame/useAsked.ts'
import { useDraft } from '../frame/useDraft.ts'
import { goTo, useType, useWhere } from '../frame/useJob.ts'
import { useSaving } from '../frame/useSaving.ts'
import { gaugeInHand, withOf } from './useWith.ts'
import { sentence } from '../frame/words.ts'
import { UnitSheet } from '../../parts/controls/UnitSheet.tsx'

const BLANK = { value: '', quantity: '', unit: '', remark: '' }

/** One reading outside any procedure: what it is of, the figure as it stands on the gauge, its unit, and the gauge. */
export function OneReading({ job }: { job: Job }) {
  const at = useWhere(job)
  const type = useType(job)
  const part = at.place.split('/')[0] ?? ''
  const draft = useDraft(`measure/${job.id}`, BLANK)
  const { told, busy, keep, forget } = useSaving()
  const [wrong, setWrong] = useState('')
  const [opened, setOpened] = useState<WithWhat | null>(null)
  const offered = useMemo(() => quantitiesFor(part), [part])
  const v = draft.value
  const quantity = v.quantity || lastUsed(`quantity/${part}`) || offered[0]?.code || ''
  const units = unitsFor(quantity)
  const unit = v.unit && units.includes(v.unit) ? v.unit : units.includes(lastUsed(`unit/${quantity}`)) ? lastUsed(`unit/${quantity}`) : (units[0] ?? '')
  const gauge = gaugeInHand('', quantity)
  const before = useAsked<Row[]>([], () => timeline(job.id, { kinds: ['measured'], place: at.place || undefined, limit: 4 }), [job.id, at.place])
  const spoken = useSpokenReading(job, type, quantity, v.remark.trim())
  const write = (value: string) => {
    setWrong('')
    spoken.forget()
    forget()
    draft.change({ value })
  }
  const save = async () => {
    let read
    try {
      read = typed(quantity, v.value, unit)
    } catch (fault) {
      return setWrong(sentence(fault))
    }
    const next = type && at.point ? pointAfter(pointsOf(type, at.place), at.point) : ''
    const reading = {
      procedure: '',
      edition: 0,
      reading: '',
      quantity,
      ...read,
      gauge: gauge.name,
      gauge_id: gauge.id,
      remark: v.remark.trim(),
      ...withOf(job),
    }
    const saved = await keep(() => measure(at, reading), `Saved: ${read.value} ${read.unit}.${next ? ` Next: ${next}.` : ''}`)
    if (!saved) return
    remember(`quantity/${part}`, quantity)
    await draft.done()
    if (next) goTo(job, at.place, next)
  }
  const close = () => setOpened(null)
  return (
    <Screen
      title={`One reading, ${nameOfPlace(job, at.place, at.point)}`}
      quiet
      job={job}
      full
      acts={
        <>
          {spoken.phase === 'proposed' ? (
            <SpokenReadingActs spoken={spoken} />
          ) : (
            <TypedActs busy={busy} off={busy || !v.value.trim() || !quantity} onKeep={() => void save()} />
          )}
          <TalkAct spoken={spoken} />
        </>
      }
    >
      <div class="measure">
        <WithRow job={job} gauge={gauge} onOpen={setOpened} />
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
            onInput={(event) => write(event.currentTarget.value)}
          />
          <span class="grid-unit">{unit}</span>
        </div>
        <SpokenReadingTold spoken={spoken} />
        <Told words={wrong || told.words} wrong={Boolean(wrong) || told.wrong} />
        <Field label="Remark" value={v.remark} onValue={(remark) => draft.change({ remark })} />
        <Readings rows={before} />
      </div>
      <div class="grid-hand">
        <FigureKeys value={v.value} onValue={write} unit={unit} onUnit={() => setOpened('unit')} />
        <SpokenMeasure spoken={spoken} />
      </div>
      {opened === 'unit' && (
        <UnitSheet
          units={units}
          now={unit}
          onChoose={(chosen) => {
            remember(`unit/${quantity}`, chosen)
            draft.change({ unit: '' })
          }}
          onClose={close}
        />
      )}
      {opened === 'gauge' && <GaugeSheet procedure="" quantity={quantity} amount="" unit={unit} now={gauge} onClose={close} />}
      {opened === 'state' && <WithSheet job={job} code="" onClose={close} />}
    </Screen>
  )
}

function TypedActs({ busy, off, onKeep }: { busy: boolean; off: boolean; onKeep: () => void }) {
  return (
    <>
      <BackAct />
      <Act name={busy ? 'Saving' : 'Keep, next'} main off={off} onAct={onKeep} />
    </>
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
        const { value, unit, quantity } = standingOf(row).body as Record<string, string>
        return (
          <li key={row.id} class={row.withdrawn ? 'is-withdrawn' : ''}>
            <span class="figure">{value}</span> {unit} <span class="small soft">{row.point || quantityWords(quantity ?? '')}</span>
          </li>
        )
      })}
    </ul>
  )
}
