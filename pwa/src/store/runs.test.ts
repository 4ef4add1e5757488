import { pbkdf2Sync } from 'node:crypto'
import { beforeEach, expect, test } from 'vitest'
import { joinedPhone, WHERE } from '../../support/phone.ts'
import { answerDeparture, beginRun, closeRun, restartStage, signedIn, tap, tighten, withdraw, witnessRun, WrongPin } from '../capture/index.ts'
import { keepPeople, runsOf } from './index.ts'

const salt = Buffer.from('sixteen bytes ok')
const PIN = { salt: salt.toString('base64'), iterations: 1000, hash: pbkdf2Sync('471105', salt, 1000, 32, 'sha256').toString('base64') }
const IDA = { id: '0197aaaa-0000-7000-8000-0000000000a2', name: 'Ida', role: 'manager', active: true, pin: PIN }

beforeEach(async () => void (await joinedPhone()))

const AT = { ...WHERE, place: 'head_bolt/A/1', point: '' }
const SHEET = '0197b000-0000-7000-8000-0000000000c1'
const BEGUN = { sheet: SHEET, joint: 'head_bolt/A', direction: 'tighten', bolts: 'new', use: 0, remark: '' } as const
const ONE = { fastener: '1', value: '20', unit: 'N·m', method: 'torque', tool: '', state: 'oiled', remark: '' }
const tapped = (run: string, fastener: string) => tap(AT, { ...ONE, fastener, run, sheet: SHEET, stage: 'snug', given: 'tap', tool_id: '', set_value: '' })

test('each run of a job has its own entries in their order, a single bolt belongs to none', async () => {
  const { run } = await beginRun(AT, BEGUN)
  const other = await beginRun(AT, { ...BEGUN, joint: 'head_bolt/B' })
  await tapped(run, '1')
  await tapped(other.run, '1')
  await tapped(run, '2')
  await tighten(AT, ONE)
  await restartStage(AT, run, 'snug', 'order not kept')
  await closeRun(AT, run, '')
  const runs = await runsOf(AT.job)
  expect(runs.map((run) => run.id)).toEqual([other.run, run])
  expect(runs[1]!.begun?.body.joint).toBe('head_bolt/A')
  expect(runs[1]!.entries.map((entry) => [entry.kind, entry.body.fastener ?? ''])).toEqual([
    ['tightening_begun', ''],
    ['fastener_tightened', '1'],
    ['fastener_tightened', '2'],
    ['tightening_stage_restarted', ''],
    ['tightening_closed', ''],
  ])
})

test('what was taken back is marked and stays, and its withdrawal can be taken back too', async () => {
  const { run } = await beginRun(AT, BEGUN)
  const { id, hash } = await tapped(run, '1')
  const back = await withdraw({ id, hash, job: AT.job }, 'tapped by mistake')
  const withdrawn = async () => (await runsOf(AT.job))[0]!.entries.map((entry) => entry.withdrawn)
  expect(await withdrawn()).toEqual([false, true])
  await withdraw({ id: back.id, hash: back.hash, job: AT.job }, 'it was right after all')
  expect(await withdrawn()).toEqual([false, false])
})

test('a second person signs by PIN, and who is signed in stays so', async () => {
  const { run } = await beginRun(AT, BEGUN)
  const before = signedIn.value
  await keepPeople([IDA])
  await expect(witnessRun(AT, run, '', { person: IDA.id, pin: '000000' })).rejects.toBeInstanceOf(WrongPin)
  await witnessRun(AT, run, '', { person: IDA.id, pin: '471105' })
  await answerDeparture(AT, run, 'snug/1/over/1', 'the wrench slipped')
  const authors = (await runsOf(AT.job))[0]!.entries.map((entry) => entry.author)
  expect(authors).toEqual([before!.id, IDA.id, before!.id])
  expect(signedIn.value).toBe(before)
})
