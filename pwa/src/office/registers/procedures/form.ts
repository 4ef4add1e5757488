// A procedure as it is typed in the office, and back. Codes are made from words unless they are written out.

import { type FigureLine, type Procedure, type ProcedureReading, BUILT_IN } from '../../../trade/measuring/procedures.ts'
import type { FieldFault } from '../../../trade/ground/errors.ts'
import { say } from '../../frame/say.ts'

export interface TypedAxis {
  words: string
  code: string
  /** A value each line: its words, or "code = words" where the code is not made from the words. */
  values: string
}

export interface TypedFigure extends Omit<FigureLine, 'of'> {
  /** Names separated by commas. */
  of: string
}

export interface Typed extends Omit<Procedure, 'grid' | 'figures' | 'optional' | 'cautions'> {
  grid: TypedAxis[]
  figures: TypedFigure[]
  optional: string
  cautions: string
}

/** "Thrust side" -> "thrust_side"; it starts with a letter. */
export function codeFrom(words: string): string {
  const plain = words
    .toLowerCase()
    .normalize('NFKD')
    .replace(/[^a-z0-9]+/g, '_')
    .replace(/^_+|_+$/g, '')
  return (/^[a-z]/.test(plain) ? plain : plain && `n_${plain}`).slice(0, 36)
}

/** The code of a value of an axis may begin with a digit: "90 deg" -> "90". */
function valueCode(words: string): string {
  return words
    .toLowerCase()
    .replace(/°|\bdeg(rees?)?\b/g, '')
    .normalize('NFKD')
    .replace(/[^a-z0-9]+/g, '_')
    .replace(/^_+|_+$/g, '')
    .slice(0, 30)
}

const lines = (text: string) =>
  text
    .split('\n')
    .map((line) => line.trim())
    .filter(Boolean)
const named = (text: string) =>
  text
    .split(',')
    .map((name) => name.trim())
    .filter(Boolean)

export function toForm(procedure: Procedure): Typed {
  return {
    ...procedure,
    grid: procedure.grid.map((axis) => ({
      words: axis.words,
      code: axis.axis,
      values: axis.values
        .map(({ code, words }) => (valueCode(words) === code ? words : `${code} = ${words}`))
        .join('\n'),
    })),
    figures: procedure.figures.map((figure) => ({ ...figure, of: figure.of.join(', ') })),
    optional: procedure.optional.join(', '),
    cautions: procedure.cautions.join('\n'),
  }
}

/** With a code made from its words where it has none. */
function withCode<T extends { code: string; words: string }>(line: T): T {
  return { ...line, words: line.words.trim(), code: line.code || codeFrom(line.words) }
}

export function fromForm(form: Typed): Procedure {
  return {
    ...form,
    name: form.name.trim(),
    code: form.code || `own_${codeFrom(form.name)}`,
    about: form.about.trim(),
    cautions: lines(form.cautions),
    optional: named(form.optional),
    grid: form.grid.map((axis) => ({
      axis: axis.code || codeFrom(axis.words),
      words: axis.words.trim(),
      values: lines(axis.values).map((line) => {
        const [code, words] = line.includes('=') ? line.split('=', 2).map((part) => part.trim()) : ['', line]
        return { code: code || valueCode(words!), words: words! }
      }),
    })),
    readings: form.readings.map(withCode),
    sizes: form.sizes.map(withCode),
    figures: form.figures.map((line) => ({ ...withCode(line), of: named(line.of), definition: line.definition.trim() })),
    across: form.across.map(withCode),
  }
}

/**
 * What is typed as a procedure; `value`: what the server checks; `known`: the faults that are known without it. An empty
 * name hides no other fault.
 */
export function readForm(form: Typed): { procedure: Procedure; value: Procedure; known: FieldFault[] } {
  const procedure = fromForm(form)
  if (procedure.name) return { procedure, value: procedure, known: [] }
  const unnamed = { where: 'name', message: say('registers.name_missing') }
  return { procedure, value: { ...procedure, name: 'unnamed', code: form.code || 'own_unnamed' }, known: [unnamed] }
}

export const NO_READING: ProcedureReading = { code: '', words: '', quantity: 'diameter', optional: false, borrow: null }

/** A start for a procedure of the workshop's own: two directions and the largest. */
export function blank(): Typed {
  return {
    code: '',
    edition: 1,
    name: '',
    part: 'bore',
    quantity: 'diameter',
    about: '',
    cautions: '',
    grid: [{ words: say('procedures.new_axis'), code: '', values: say('procedures.new_directions') }],
    readings: [],
    optional: '',
    sizes: [],
    figures: [
      {
        ...{ code: '', words: say('procedures.new_figure'), kind: 'length', do: 'largest', of: 'grid', along: '', by: '' },
        ...{ definition: say('procedures.new_figure_definition'), guide: null },
      },
    ],
    across: [],
    walk: 'place',
    drawing: 'list',
  }
}

/** A copy to change: the workshop's own, from the first edition on. */
export function ownFrom(procedure: Procedure): Typed {
  return { ...toForm(procedure), code: '', edition: 1, name: say('procedures.own_name', { name: procedure.name }) }
}

/** The next edition of the workshop's own procedure. */
export function nextEdition(procedure: Procedure): Typed {
  return { ...toForm(procedure), edition: procedure.edition + 1 }
}

export function isBuiltIn(code: string): boolean {
  return Object.hasOwn(BUILT_IN, code)
}
