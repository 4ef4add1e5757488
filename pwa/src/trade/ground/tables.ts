// Puts the language's own words into the tables that both faces show; each face brings this in before anything that reads one.

import gauges from '../../../../server/witnessmark/trade/data/gauge_sorts.json'
import kinds from '../../../../server/witnessmark/trade/data/kinds.json'
import materials from '../../../../server/witnessmark/trade/data/materials.json'
import parts from '../../../../server/witnessmark/trade/data/parts.json'
import procedures from '../../../../server/witnessmark/trade/data/procedures.json'
import quantities from '../../../../server/witnessmark/trade/data/quantities.json'
import stages from '../../../../server/witnessmark/trade/data/stages.json'
import tools from '../../../../server/witnessmark/trade/data/torque_tools.json'
import vocabulary from '../../../../server/witnessmark/trade/data/vocabulary.json'
import { worded } from './sentences.ts'

const KINDS = import.meta.glob<object>('../../../../server/witnessmark/trade/data/kinds/*.json', { eager: true, import: 'default' })

const tables = { gauge_sorts: gauges, kinds, materials, parts, procedures, quantities, stages, torque_tools: tools, vocabulary }
for (const [name, table] of Object.entries(tables)) worded(name, table)
for (const [path, kind] of Object.entries(KINDS)) worded(path.slice(path.indexOf('/kinds/') + 1, -'.json'.length), kind)
