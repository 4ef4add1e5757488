import { readFileSync } from 'node:fs'
import { expect, it } from 'vitest'
import engines from '../../../../server/witnessmark/trade/data/invented_engine_types.json'
import { KINDS } from './kinds.ts'
import { line, type Line, type Lined } from './lines.ts'
import type { EngineType } from '../engine/parts.ts'

type Case = { name: string; engine_type: string | null; entry: Lined; line: Line }

const vectors = JSON.parse(readFileSync(new URL('../../../../tests/vectors/lines.json', import.meta.url), 'utf8'))
const engine = (name: string | null) =>
  (engines.engine_types as unknown as EngineType[]).find((type) => type.name === name) ?? null

// What the workshop describes at the desk is shown by the office alone, as the server words it.
const DESCRIBED = ['gauge', 'limit', 'size', 'procedure', 'measuring_rules', 'tightening_sheet', 'torque_tool']
const described = ({ entry }: Case) =>
  Object.values(KINDS[entry.kind]!.versions[entry.version]!.body).some(({ is }) => DESCRIBED.includes(is))
const shown = (vectors.cases as Case[]).filter((vector) => !described(vector))

it.each<Case>(shown)('the line of $name', (vector) => {
  expect(line(vector.entry, engine(vector.engine_type))).toEqual(vector.line)
})

it('an entry of a kind from a later version still has a line', () => {
  const entry = { kind: 'hold_point_waived', version: 1, body: {}, location: null }
  expect(line(entry)).toEqual({ title: 'Hold point waived', text: '' })
})
