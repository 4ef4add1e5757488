import { beforeEach, expect, test } from 'vitest'
import { joinedPhone, WHERE } from '../../support/phone.ts'
import { amendJob, correct, measure, note, openJob, reachStage, tick, withdraw } from '../capture/index.ts'
import { checklist, jobFacts, readingsOf, record, tallies, timeline } from './index.ts'

beforeEach(async () => void (await joinedPhone()))

const FACTS = {
  number: '24-118',
  vehicle: 'Harbour launch Marrow',
  registration: 'HL 41',
  engine_type: '0197cccc-0000-7000-8000-000000000001',
  engine_number: 'K-20331',
  distance: '4180',
  distance_unit: 'h',
  complaint: 'Ran hot, then lost oil pressure',
  received_as: '',
  earlier_job: '',
} as const

const MEASURED = {
  procedure: 'cylinder_bore',
  edition: 1,
  reading: 'top/thrust',
  state: 'as_found',
  quantity: 'diameter',
  value: '92.04',
  unit: 'mm',
  gauge: 'bore gauge 3',
  gauge_id: '',
  part_temperature: '',
  gauge_temperature: '',
  material: '',
  remark: '',
}

test('a job opened without signal is on the phone at once, with what was amended and the stage it reached', async () => {
  const { job } = await openJob({ ...FACTS })
  await amendJob(job, { engine_number: 'K-20381' }, 'misread: dirt on the plate')
  await reachStage(job, 'strip')
  expect(await jobFacts(job)).toMatchObject({ number: '24-118', engine_number: 'K-20381', stage: 'strip', waiting: true })
  await note({ job, place: '', point: '' }, 'sump off')
  expect((await timeline(job))[0]?.entry.stage).toBe('strip')
})

test('an amendment that was corrected or withdrawn tells the job no more than what stands', async () => {
  const { job } = await openJob({ ...FACTS })
  const first = await amendJob(job, { engine_number: 'K-20381' }, 'misread: dirt on the plate')
  const second = await amendJob(job, { vehicle: 'Harbour launch' }, 'as the owner calls it')
  await withdraw({ ...first, job }, 'it was right at first')
  expect(await jobFacts(job)).toMatchObject({ engine_number: FACTS.engine_number, vehicle: 'Harbour launch' })
  await correct({ ...second, job }, { reason: 'its full name', changes: { changes: { vehicle: 'Harbour launch Marrow' } }, location: null })
  expect(await jobFacts(job)).toMatchObject({ vehicle: 'Harbour launch Marrow', stage: null })
})

test('the record of a job reads newest first, page after page, without a gap or a repeat', async () => {
  for (let i = 0; i < 7; i++) await note(WHERE, `note ${i}`)
  const first = await timeline(WHERE.job, { limit: 3 })
  const second = await timeline(WHERE.job, { limit: 3, before: first.at(-1)?.at })
  const third = await timeline(WHERE.job, { limit: 3, before: second.at(-1)?.at })
  expect([...first, ...second, ...third].map((row) => row.entry.body.text)).toEqual([6, 5, 4, 3, 2, 1, 0].map((i) => `note ${i}`))
})

test('it is narrowed by place with everything below it, by kind and by words', async () => {
  await measure({ ...WHERE, place: 'head/A' }, MEASURED)
  await note({ ...WHERE, place: 'head/A/bolt/7' }, 'thread pulled')
  await note({ ...WHERE, place: 'head/AB' }, 'another head')
  expect(await timeline(WHERE.job, { place: 'head/A' })).toHaveLength(2)
  expect(await timeline(WHERE.job, { kinds: ['measured'] })).toHaveLength(1)
  expect(await timeline(WHERE.job, { words: 'Thread bolt' })).toHaveLength(1)
  expect(await timeline(WHERE.job, { words: [['stud', 'bolt'], ['pulled']] })).toHaveLength(1)
  expect(await timeline(WHERE.job, { words: [['stud']] })).toHaveLength(0)
  expect(await tallies(WHERE.job)).toEqual({ 'head/A': 1, 'head/A/bolt/7': 1, 'head/AB': 1 })
})

test('a correction and a withdrawal stand beside the record, which stays as it was', async () => {
  const saved = await measure(WHERE, MEASURED)
  const row = { ...saved, job: WHERE.job }
  await correct(row, { reason: 'read the wrong line', changes: { value: '92.14' }, location: null })
  await withdraw(row, 'wrong cylinder')
  const savedRow = await record(saved.id)
  expect(savedRow?.entry.body.value).toBe('92.04')
  expect(savedRow?.corrections.map((correction) => correction.entry.body.changes)).toEqual([{ value: '92.14' }])
  expect(savedRow?.withdrawn?.entry.body.reason).toBe('wrong cylinder')
})

test('the figures of a job are read as they stand: corrections taken in, withdrawn ones left out', async () => {
  const first = await measure(WHERE, MEASURED)
  const second = await measure(WHERE, { ...MEASURED, reading: 'top/axial', value: '92.05' })
  await correct({ ...first, job: WHERE.job }, { reason: 'read the wrong line', changes: { value: '92.14' }, location: null })
  await withdraw({ ...second, job: WHERE.job }, 'wrong cylinder')
  const readings = await readingsOf(WHERE.job)
  expect(readings.filter((reading) => [first.id, second.id].includes(reading.id)).map(({ id, body }) => [id, body.value])).toEqual([[first.id, '92.14']])
})

test('the checklist shows the last word on each item', async () => {
  await tick(WHERE.job, { stage: 'strip', item: 'cap_marks', ticked: true, note: '' })
  await tick(WHERE.job, { stage: 'strip', item: 'timing_marks', ticked: true, note: '' })
  await tick(WHERE.job, { stage: 'strip', item: 'cap_marks', ticked: false, note: 'rod 3 has none' })
  const items = Object.fromEntries((await checklist(WHERE.job)).map((tick) => [tick.item, tick.ticked]))
  expect(items).toEqual({ cap_marks: false, timing_marks: true })
})
