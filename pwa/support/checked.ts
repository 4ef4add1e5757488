// What the server's rules say of things a form makes: asked of the server's own code.
import { execFileSync } from 'node:child_process'
import type { Fault } from '../src/trade/ground/errors.ts'

const ROOT = new URL('../../', import.meta.url).pathname
const CHECK = `
import json, sys
from witnessmark.trade.engine import types as engine_type
from witnessmark.trade.measuring import procedures as procedure
from witnessmark.trade.tightening import sheets as tightening_sheet
sort, given = json.load(sys.stdin)
print(json.dumps([[fault.as_json() for fault in globals()[sort].check(*one)] for one in given]))
`

/** The faults of each value of one sort; beside a tightening sheet stands its engine type. */
export function checked(sort: 'engine_type' | 'procedure' | 'tightening_sheet', given: unknown[][]): Fault[][] {
  const output = execFileSync(process.env['PYTHON'] ?? 'python3', ['-c', CHECK], {
    cwd: ROOT,
    encoding: 'utf8',
    input: JSON.stringify([sort, given]),
    env: { ...process.env, PYTHONPATH: `${ROOT}server` },
  })
  return JSON.parse(output) as Fault[][]
}
