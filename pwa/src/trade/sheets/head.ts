// The head of a sheet: its unit, what is asked, sizes and limits, the gauges used. The twin of trade/sheets/head.py.

import type { Size } from '../measuring/limits.ts'
import type { Rules } from '../measuring/rules.ts'
import { pointWords, quantityOf, readingCodes, required, type Procedure } from '../measuring/procedures.ts'
import { allRead, type PlaceResult, type Job } from './job.ts'
import type { Taken } from './readings.ts'
import type { Asked, MeasuredBody, Sheet } from './types.ts'
import { byText, kindOf, shownUnit } from './words.ts'
import { QUANTITIES } from '../ground/units.ts'

/** The unit of the sheet: the workshop's, else the one most often typed for the procedure's quantity. */
export function unit(procedure: Procedure | null, at: Map<string, PlaceResult>, rules: Rules): string {
  if (!procedure) return ''
  const quantity = QUANTITIES.find((candidate) => candidate.code === procedure.quantity)!
  const typed = new Map<string, number>()
  for (const result of at.values()) {
    for (const reading of [...result.taken.values()].flatMap((taken) => taken.values)) {
      if (reading.amount !== null && kindOf(reading.unit) === quantity.kind) typed.set(reading.unit, (typed.get(reading.unit) ?? 0) + 1)
    }
  }
  const [most] = [...typed].sort(([a, n], [b, m]) => m - n || byText(a, b))
  return shownUnit(quantity.kind, most?.[0] ?? quantity.units[0]!, rules)
}

/** What is asked, in order; then what was read without being asked for. */
export function askedReadings(procedure: Procedure | null, at: Map<string, PlaceResult>): Asked[] {
  const codes = procedure ? readingCodes(procedure) : []
  const needed = procedure ? required(procedure) : []
  const borrowing = procedure?.readings.filter((reading) => reading.borrow).map((reading) => reading.code) ?? []
  const lines = codes.map((code) => ({
    code,
    words: pointWords(procedure!, code),
    optional: !needed.includes(code),
    quantity: quantityOf(procedure!, code),
    borrowed: borrowing.includes(code),
  }))
  const others = new Map<string, Taken>()
  for (const result of at.values()) {
    for (const [code, taken] of result.taken) if (!codes.includes(code)) others.set(code, taken)
  }
  const beside = [...others].sort(([a], [b]) => byText(a, b)).map(([code, taken]) => {
    const { body: loose, point } = taken.values[0]!.given
    const body = loose as unknown as MeasuredBody
    const quantity = QUANTITIES.find((candidate) => candidate.code === body.quantity)?.words ?? body.quantity
    const words = body.reading ? point || code : [quantity, point].filter(Boolean).join(', ')
    return { code, words, optional: true, quantity: body.quantity, borrowed: false }
  })
  return [...lines, ...beside]
}

/** The sizes that the engine type has for a procedure, by code: those for everywhere before those for some places. */
export function sizes(job: Job, procedure: Procedure | null): Sheet['sizes'] {
  const sizeByCode = new Map<string, Size>()
  for (const size of procedure ? job.sizesOf(procedure.code) : []) {
    const other = sizeByCode.get(size.code)
    if (!other || (other.where.length && !size.where.length)) sizeByCode.set(size.code, size)
  }
  return Object.fromEntries([...sizeByCode].map(([code, { values, unit, source }]) => [code, { values, unit, source }]))
}

/** The limits that count for a procedure in a state, `on` a day or "" for any. */
export function limitsNow(job: Job, code: string, state: string, on: string): Sheet['limits_now'] {
  return job.limitsOf(code, state, on).map(({ data: { figure, sort, low, high, unit, source, where } }) => ({
    figure, sort, low, high, unit, source, where,
  }))
}

/** The gauges that the readings were taken with, as they were described then, in the order of their names. */
export function gauges(at: Map<string, PlaceResult>): Sheet['gauges'] {
  const gaugeByName = new Map<string, Sheet['gauges'][0]>()
  for (const reading of allRead(at)) {
    const gauge = (reading.given.body as unknown as MeasuredBody).gauge ?? ''
    if (reading.gauge) {
      const { name, id, resolution, mpe, unit, due } = reading.gauge
      gaugeByName.set(`${name}\n${id}\n${due}`, { name, id, resolution, mpe, unit, due })
    } else if (gauge) {
      gaugeByName.set(`${gauge}\n\n`, { name: gauge, id: '', resolution: '', mpe: '', unit: '', due: '' })
    }
  }
  return [...gaugeByName].sort(([a], [b]) => byText(a, b)).map(([, gauge]) => gauge)
}

/** Gauges past their date when they were used, with the number of their readings on this sheet. */
export function overdue(at: Map<string, PlaceResult>): Sheet['overdue'] {
  const late = new Map<string, Sheet['overdue'][0]>()
  for (const { gauge, overdue: past } of allRead(at)) {
    if (!past || !gauge) continue
    const key = `${gauge.name}\n${gauge.due}`
    const lateGauge = late.get(key) ?? { gauge: gauge.name, due: gauge.due, count: 0 }
    late.set(key, { ...lateGauge, count: lateGauge.count + 1 })
  }
  return [...late].sort(([a], [b]) => byText(a, b)).map(([, lateGauge]) => lateGauge)
}
