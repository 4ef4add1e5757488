// A procedure as it is typed in the office, and back. Codes are made from words unless they are written out.

import { type FigureLine, type Procedure, type ProcedureReading, BUILT_IN } from '../../../trade/measuring/procedures.ts'
import type { Fault } from '../../../trade/ground/errors.ts'

export interface TypedAxis {
  words: string
  code: string
  /** A value each line: its words, or "code = words" where the code is not made from the words. */
  values: string
}

export interface TypedFigure extends Omit<FigureLine, 'of'> {
  /** Names parted by commas. */
  of: string
}

export interface Typed extends Omit<Procedure, 'grid' | 'figures' | 'optional' | 'cautions'> {
  grid: TypedAxis[]
  figures: TypedFigure[]
  optional: string
  cautions: string
}

/** "Thrust side" -> "thrust_side"; at least one letter stands in front. */
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
    readings: form.readings.map((one) => ({ ...one, words: one.words.trim(), code: one.code || codeFrom(one.words) })),
    sizes: form.sizes.map((one) => ({ ...one, words: one.words.trim(), code: one.code || codeFrom(one.words) })),
    figures: form.figures.map((one) => ({
      ...one,
      words: one.words.trim(),
      code: one.code || codeFrom(one.words),
      of: named(one.of),
      definition: one.definition.trim(),
    })),
    across: form.across.map((one) => ({ ...one, words: one.words.trim(), code: one.code || codeFrom(one.words) })),
  }
}

/**
 * What is typed as a procedure, and the faults that are known without asking; a name that is not written yet hides no
 * other fault: `value` is to be checked with a name of its own.
 */
export function readForm(form: Typed): { procedure: Procedure; value: Procedure; known: Fault[] } {
  const procedure = fromForm(form)
  if (procedure.name) return { procedure, value: procedure, known: [] }
  const unnamed = { where: 'name', message: 'It needs a name, as it is said in the workshop.' }
  return { procedure, value: { ...procedure, name: 'unnamed', code: form.code || 'own_unnamed' }, known: [unnamed] }
}

export const NO_READING: ProcedureReading = { code: '', words: '', quantity: 'diameter', optional: false, borrow: null }

/** A start for a procedure of one's own: two directions, largest and ovality. */
export function blank(): Typed {
  return {
    code: '',
    edition: 1,
    name: '',
    part: 'bore',
    quantity: 'diameter',
    about: '',
    cautions: '',
    grid: [{ words: 'direction', code: '', values: 'thrust\naxial' }],
    readings: [],
    optional: '',
    sizes: [],
    figures: [
      { code: '', words: 'largest', kind: 'length', do: 'largest', of: 'grid', along: '', by: '', definition: 'The largest of all readings.', guide: null },
    ],
    across: [],
    walk: 'place',
    drawing: 'list',
  }
}

/** A copy to change: the workshop's own, from the first edition on. */
export function ownFrom(procedure: Procedure): Typed {
  return { ...toForm(procedure), code: '', edition: 1, name: `${procedure.name}, our way` }
}

/** The next edition of the workshop's own procedure. */
export function nextEdition(procedure: Procedure): Typed {
  return { ...toForm(procedure), edition: procedure.edition + 1 }
}

export function isBuiltIn(code: string): boolean {
  return Object.hasOwn(BUILT_IN, code)
}
