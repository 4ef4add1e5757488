// What the workshop has said of tightening sheets and torque tools: what counts now and what was said before. The twin of
// trade/tightening/known.py.

import type { Statement } from '../measuring/known.ts'
import type { KnownEntry } from '../measuring/entries.ts'
import type { TighteningSheet } from './sheets.ts'
import type { ToolInHand, ToolStatement } from './values.ts'

const FIELD: Record<string, 'sheet' | 'tool'> = { tightening_sheet_described: 'sheet', torque_tool_described: 'tool' }

export interface KnownTightening {
  /** What counts now, by identifier. */
  sheets: Map<string, Statement<TighteningSheet>>
  tools: Map<string, Statement<ToolInHand>>
  /** Every description ever made. */
  byEntry: Map<string, Statement<any>>
  /** Each sheet's descriptions, oldest first; and those of all tools. */
  history: Map<string, Statement<TighteningSheet>[]>
  toolHistory: Statement<ToolInHand>[]
}

/** All that was said, from the workshop's entries in the order of the log; entries of other kinds are passed over. */
export function knownTightening(entries: KnownEntry[]): KnownTightening {
  const known: KnownTightening = {
    sheets: new Map(),
    tools: new Map(),
    byEntry: new Map(),
    history: new Map(),
    toolHistory: [],
  }
  for (const { id, kind, body, claimed } of entries) {
    if (!Object.hasOwn(FIELD, kind)) continue
    const statement: Statement<any> = { entry: id, kind, data: body[FIELD[kind]!], claimed }
    known.byEntry.set(id, statement)
    if (FIELD[kind] === 'tool') {
      known.tools.set(statement.data.id, statement)
      known.toolHistory.push(statement)
    } else {
      known.sheets.set(statement.data.id, statement)
      known.history.set(statement.data.id, [...(known.history.get(statement.data.id) ?? []), statement])
    }
  }
  return known
}

/**
 * The sheet by which a joint of an engine type is tightened or let go now, null when there is none. One that names the
 * joint itself goes before one for all joints alike, one made for letting go before one that is reversed, and of several
 * the one described last. A sheet made for letting go tightens nothing.
 */
export function sheetFor(
  known: KnownTightening,
  engineType: string,
  joint: string,
  direction: string,
): Statement<TighteningSheet> | null {
  let bestStatement: Statement<TighteningSheet> | null = null
  let best = -1
  for (const statement of known.sheets.values()) {
    const sheet = statement.data
    const letsGo = sheet.stages.every((stage) => stage.method === 'release')
    if (sheet.engine_type !== engineType || sheet.withdrawn || !isFor(sheet.joint, joint)) continue
    if (direction === 'tighten' && letsGo) continue
    const rank = 2 * Number(letsGo) + Number(sheet.joint === joint)
    if (rank < best) continue
    bestStatement = statement
    best = rank
  }
  return bestStatement
}

/** Whether a sheet's joint, maybe with * for a whole segment, names this joint. */
function isFor(pattern: string, joint: string): boolean {
  const [wanted, parts] = [pattern.split('/'), joint.split('/')]
  return parts.length === wanted.length && wanted.every((want, at) => want === '*' || want === parts[at])
}

/**
 * The sheet of a run as it was described then: as the basis of its beginning names it, else the newest description
 * claimed to be older, else the first. null for a sheet that nobody described.
 */
export function sheetOf(
  known: KnownTightening,
  begun: { sheet: string; basis: string[] },
  claimed: string,
): Statement<TighteningSheet> | null {
  for (const id of begun.basis) {
    const statement = known.byEntry.get(id)
    if (statement && FIELD[statement.kind] === 'sheet' && statement.data.id === begun.sheet) return statement
  }
  const history = known.history.get(begun.sheet) ?? []
  const when = Date.parse(claimed)
  return history.findLast((statement) => Date.parse(statement.claimed) <= when) ?? history[0] ?? null
}

/** All descriptions of tools as the fold of a run takes them. */
export function toolsOf(known: KnownTightening): ToolStatement[] {
  return known.toolHistory.map((statement) => ({ entry: statement.entry, tool: statement.data, claimed: statement.claimed }))
}

/**
 * The entries that a run or one of its fasteners begun now is judged by: the sheet's and the tool's newest descriptions.
 * Both are identifiers; "" or an unknown one gives none.
 */
export function basisForRun(known: KnownTightening, sheet: string, tool = ''): string[] {
  return [known.sheets.get(sheet), known.tools.get(tool)].flatMap((statement) => statement?.entry ?? [])
}
