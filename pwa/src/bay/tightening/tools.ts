// The register of torque tools as it is offered in the bay, the one in hand, and what an extension makes of a target.
import { tightening } from '../../store/index.ts'
import * as described from '../../trade/ground/described.ts'
import { Refusal } from '../../trade/ground/errors.ts'
import type { TighteningStage } from '../../trade/tightening/stages.ts'
import { toolObjections, type ToolInHand } from '../../trade/tightening/values.ts'
import { deviation, setText, setValue, SORTS, type TorqueTool } from '../../trade/tightening/tools.ts'
import { exactText } from '../../trade/ground/amounts.ts'
import { read, toSi } from '../../trade/ground/units.ts'
import { hand, lastUsed, prefer } from '../frame/hand.ts'
import { capital } from '../frame/words.ts'
import { say } from '../frame/say.ts'

/** What is in hand: `id` '' for a tool that is in no register. */
export interface Held {
  id: string
  name: string
}

/** A crow-foot or extension, lengths as typed in mm; at a right angle it changes nothing. */
export interface Extension {
  length: string
  extension: string
  square: boolean
}

export interface Offered {
  id: string
  name: string
  /** "click wrench, 20 to 100 N·m, ±4 %" */
  facts: string
  /** What is wrong with it for this stage, in sentences. */
  against: string[]
}

const NOTHING: Held = { id: '', name: '' }
const NO_EXTENSION: Extension = { length: '', extension: '', square: false }

function stored<V extends object>(key: string, none: V): V {
  try {
    return { ...none, ...JSON.parse(lastUsed(key) || '{}') }
  } catch {
    return none
  }
}

const store = (key: string, value: object) => prefer({ last: { ...hand.value.last, [key]: JSON.stringify(value) } })

const torqueToolKey = (method: string) => `torque tool/${method}`

/** The tool last used for torque, for angle or for releasing. */
export const heldFor = (method: string): Held => stored(torqueToolKey(method), NOTHING)
export const hold = (method: string, tool: Held) => store(torqueToolKey(method), tool)
export const extensionOf = (tool: Held): Extension => stored(`extension/${tool.id || tool.name}`, NO_EXTENSION)
export const extend = (tool: Held, by: Extension) => store(`extension/${tool.id || tool.name}`, by)

export const toolOf = (held: Held): TorqueTool | null => (tightening.value.tools.get(held.id)?.data as TorqueTool | undefined) ?? null

/** Tools in use, those that fit the stage and are not overdue first. `now` is a time as claimed. */
export function offered(tools: Iterable<ToolInHand>, stage: TighteningStage, now: string): Offered[] {
  const inUse = ([...tools] as TorqueTool[]).filter((tool) => !tool.retired)
  const rows = inUse.map((tool) => ({ id: tool.id, name: tool.name, facts: factsOf(tool), against: against(tool, stage, '', now) }))
  return rows.sort((a, b) => a.against.length - b.against.length || (a.name < b.name ? -1 : 1))
}

/** What will be recorded as a deviation when this tool is used, without the name of the stage. */
export function against(tool: ToolInHand, stage: TighteningStage, set: string, now: string): string[] {
  return toolObjections(stage, tool, set, now).map(([, words]) => capital(words.slice(stage.words.length + 2)))
}

const SHORT = { wrong_tool: 'tool.wrong', out_of_range: 'tool.out_of_range', overdue_tool: 'tool.overdue' } as const

/** The same in a few words: "outside its range, calibration overdue". */
export function againstShortly(tool: ToolInHand, stage: TighteningStage, set: string, now: string): string {
  return toolObjections(stage, tool, set, now)
    .map(([sort]) => (sort in SHORT ? say(SHORT[sort as keyof typeof SHORT]) : sort))
    .join(', ')
}

function factsOf(tool: TorqueTool): string {
  const high = `${tool.high} ${tool.unit}`
  const range = tool.low && tool.high ? say('common.range', { low: tool.low, high }) : tool.high ? say('common.up_to', { high }) : tool.unit
  const [percent] = deviation(tool)
  return [SORTS[tool.sort]?.words ?? tool.sort, range, percent && `±${exactText(percent)} %`].filter(Boolean).join(', ')
}

/** What to set the wrench to, with its unit: '' when it is the target itself, or when the lengths cannot be read yet. */
export function setFor(stage: TighteningStage, { length, extension, square }: Extension): string {
  if (stage.method !== 'torque' || square || !length || !extension) return ''
  try {
    const { amount, unit } = read(stage.target, stage.unit)
    const value = setValue(toSi(amount, unit), described.exact(length), described.exact(extension))
    const text = setText(value, unit)
    return text === `${stage.target} ${stage.unit}` ? '' : text
  } catch (fault) {
    if (fault instanceof Refusal || fault instanceof SyntaxError) return ''
    throw fault
  }
}
