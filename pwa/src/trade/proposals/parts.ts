// What all proposals are made from: the readings, figures and sizes of a sheet as exact amounts with their texts. The
// twin of trade/proposal_parts.py.

import { exactText } from '../ground/amounts.ts'
import { Refusal } from '../ground/errors.ts'
import type { Known } from '../measuring/known.ts'
import { covers } from '../measuring/limits.ts'
import { gridCodes, type Procedure } from '../measuring/procedures.ts'
import type { Proposal, ProposalInput } from './types.ts'
import type { Sheet, SheetPlace, Taken } from '../sheets/types.ts'
import { written } from '../sheets/words.ts'
import { type Fraction, fromSi, toSi } from '../ground/units.ts'

/** An exact amount in SI, the unit and the decimals it was typed with, and where it is from. */
export class Amount {
  constructor(
    readonly si: Fraction,
    readonly unit: string,
    readonly places: number,
    readonly source = '',
  ) {}

  /** As typed: `0.50 mm`. */
  get text(): string {
    return this.say(this.si)
  }

  /** Another amount in the unit of this one, with its decimals or as many as it needs. */
  say(si: Fraction): string {
    return `${exactText(fromSi(si, this.unit), this.places)} ${this.unit}`.trimEnd()
  }
}

type Stated = Sheet['sizes'][string]

/** One sheet, with what the workshop has said. */
export class Asked {
  constructor(
    readonly sheet: Sheet,
    readonly known: Known,
    readonly engineType: string,
  ) {}

  /** The values of a size; at a place those that hold there, for fewer places before all. [] when there is none. */
  size(code: string, place = ''): Amount[] {
    const found = place ? this.there(code, place) : this.sheet.sizes[code]
    return (found?.values ?? [])
      .map((text) => amount(text, found!.unit, found!.source))
      .filter((one): one is Amount => one !== null)
  }

  private there(code: string, place: string): Stated | undefined {
    let here: (Stated & { where: string[] }) | undefined
    for (const { what } of Object.values(this.known.sizes)) {
      const mine = what.engine_type === this.engineType && what.procedure === this.sheet.procedure
      if (!mine || what.code !== code || what.withdrawn || !covers(what.where, place)) continue
      if (!here || what.where.length || !here.where.length) here = what
    }
    return here
  }

  single(code: string, place = ''): Amount | null {
    return this.size(code, place)[0] ?? null
  }

  /** A size that is a word and no number, such as a material. */
  text(code: string): string {
    return this.sheet.sizes[code]?.values[0] ?? ''
  }

  /** A reading, the mean of its repeats, as the sheet shows it. */
  reading(place: SheetPlace, code: string): Amount | null {
    const found = place.readings[code]
    return found?.mean ? amount(found.mean, found.unit, fromExhibits(found)) : null
  }

  figure(place: SheetPlace, code: string): Amount | null {
    const found = place.figures.find((one) => one.code === code)
    return found && found.value !== null ? amount(found.value, found.unit, '') : null
  }

  /** A reading in words: `top, thrust`. */
  words(code: string): string {
    return this.sheet.readings_asked.find((one) => one.code === code)?.words ?? code
  }

  /** The code of the figure that takes `largest` or `smallest` of the whole grid, '' when there is none. */
  madeBy(operation: string): string {
    const lines = this.procedure?.figures ?? []
    return lines.find((one) => one.do === operation && one.of.join() === 'grid')?.code ?? ''
  }

  /** The readings that are the size itself: those of the grid, without one those of the procedure's quantity. */
  ofTheSize(): string[] {
    const told = this.procedure
    if (!told) return []
    if (told.grid.length) return gridCodes(told)
    return told.readings.filter((one) => one.quantity === told.quantity).map((one) => one.code)
  }

  private get procedure(): Procedure | undefined {
    return this.known.editions[`${this.sheet.procedure} ${this.sheet.edition}`]?.what
  }
}

function fromExhibits(taken: Taken): string {
  const numbers = taken.values.map((one) => String(one.exhibit)).filter(Boolean)
  return numbers.length ? `exhibit ${numbers.join(', ')}` : 'as read'
}

/** A shown or stated value as an exact amount; null when it cannot be read. */
export function amount(text: string, unit: string, source: string): Amount | null {
  try {
    const number = written(text)
    return new Amount(toSi(number.amount, unit), unit, number.places ?? 0, source)
  } catch (error) {
    if (error instanceof Refusal) return null
    throw error
  }
}

/** A line of the inputs; none when there is nothing. */
export function given(name: string, amounts: (Amount | null)[]): ProposalInput[] {
  const there = amounts.filter((one): one is Amount => one !== null)
  if (!there.length) return []
  return [{ name, value: there.map((one) => one.text).join(', '), source: there[0]!.source }]
}

/** `more` are its inputs, its cautions and the reading that forces it. */
export function proposal(
  sort: Proposal['sort'],
  title: string,
  lines: string[],
  formula: string,
  more: Partial<Proposal>,
): Proposal {
  return { sort, title, lines, formula, inputs: [], cautions: [], forced_by: null, ...more }
}
