// The ten stages of a job, the plain checklist of each and the cautions shown with it: the twin of trade/engine/stages.py.

import table from '../../../../server/witnessmark/trade/data/stages.json'

export interface Stage {
  code: string
  words: string
  purpose: string
  checklist: { item: string; words: string }[]
  cautions: string[]
}

export const STAGES: Stage[] = table.stages
export const CODES: string[] = STAGES.map((stage) => stage.code)
/** Stands with every list of cautions. */
export const ALWAYS: string = table.always

/** The stage as it is said ("clean and measure"); a code nobody knows is shown as it stands. */
export function stageWords(code: string): string {
  return STAGES.find((stage) => stage.code === code)?.words ?? code
}

/** The checklist item as it is read; an item of an older list is shown by its code. */
export function itemWords(stage: string, item: string): string {
  const list = STAGES.find((candidate) => candidate.code === stage)?.checklist ?? []
  return list.find((line) => line.item === item)?.words ?? item.replaceAll('_', ' ')
}
