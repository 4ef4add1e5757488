// The stages of a tightening sheet, and which of them a run in one direction goes through. What the fields mean is said
// in the server's tightening/stages.py.

import { say } from '../ground/say.ts'

export type Method = 'torque' | 'angle' | 'release'
export type Direction = 'tighten' | 'loosen'

/** Numbers are decimal text in `unit`; a release stage without a target has "" in all four. */
export interface TighteningStage {
  code: string
  words: string
  method: Method
  target: string
  unit: string
  minus: string
  plus: string
  /** Each fastener of the joint once. */
  order: string[]
  /** True until a person has confirmed a proposed order. */
  proposed: boolean
  after: string
}

export const METHODS: Record<Method, string> = {
  torque: say('tightening.method.torque'),
  angle: say('tightening.method.angle'),
  release: say('tightening.method.release'),
}
export const KINDS: Record<Method, string[]> = { torque: ['torque'], angle: ['angle'], release: ['torque', 'angle'] }
export const MOST_STAGES = 20

/**
 * The stages that a run goes through. Tightening goes through all, in their order. Loosening goes through the stages of
 * a sheet that has release stages only; any other sheet is loosened in one stage, in the exact reverse of the order of
 * its last stage.
 */
export function stagesOf(sheet: { stages: TighteningStage[] }, direction: Direction): TighteningStage[] {
  const given = sheet.stages
  if (direction === 'tighten' || given.every((stage) => stage.method === 'release')) return given
  const last = given[given.length - 1]!
  return [
    {
      code: 'release', words: say('tightening.release_stage'), method: 'release', target: '', unit: '', minus: '', plus: '',
      order: loosening(last.order), proposed: last.proposed, after: '',
    },
  ]
}

/** The order in which to release what was tightened in `order`. */
export function loosening(order: string[]): string[] {
  return [...order].reverse()
}
