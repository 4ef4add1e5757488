// The spoken vocabulary: phrases of spoken.json and the tables of the trade in one index, and the workshop's own words.
// The twin of trade/spoken/words.py.

import procedures from '../../../../server/witnessmark/trade/data/procedures.json'
import table from '../../../../server/witnessmark/trade/data/spoken.json'
import vocabulary from '../../../../server/witnessmark/trade/data/vocabulary.json'
import { PARTS } from '../engine/parts.ts'
import type { OwnWord } from './types.ts'
import { QUANTITIES, UNITS } from '../ground/units.ts'
import { plural, singular } from '../engine/vocabulary.ts'

export const TABLE = table
export const NUMBERS = table.numbers
export const CYLINDER_WORDS: string[] = table.cylinder_words.flatMap((word) => [word, plural(word)])
export const PROCEDURES: Record<string, Procedure> = Object.fromEntries(procedures.procedures.map((procedure) => [procedure.code, procedure]))
export const OPPOSITES: string[][] = table.opposites

/** What is looked at of a procedure here. */
interface Procedure {
  code: string
  part: string
  grid: { values: { code: string; words: string }[] }[]
  readings: { code: string; words: string }[]
}

/** [sort, code]. */
export type Meaning = [string, string]
export type Phrases = Record<string, string[]>

const LETTERS = /[a-z']+|[0-9]+/g
const unique = <T>(list: T[]): T[] => [...new Set(list)]
/** A list of a table by its key, [] where it has none. */
const spokenForms = (list: object, key: string): string[] =>
  Object.hasOwn(list, key) ? (list as Record<string, string[]>)[key]! : []

/** A phrase as it is spoken: small letters, hyphens and strokes apart. */
export function plain(text: string): string {
  return (text.toLowerCase().match(LETTERS) ?? []).join(' ')
}

function digitWords(): Phrases {
  const phrases: Phrases = {}
  for (const sort of [NUMBERS.digits, NUMBERS.teens, NUMBERS.tens]) {
    for (const [word, digits] of Object.entries(sort)) {
      if (!['oh', 'o', 'naught'].includes(word)) (phrases[digits] ??= []).push(word)
    }
  }
  return phrases
}

const DIGITS_TO_WORDS = digitWords()

/** The spoken forms of a written phrase: "line 1" is "line one", "0 deg" is "zero degrees" or "nought degrees". */
export function spoken(text: string): string[] {
  let forms: string[][] = [[]]
  for (const word of plain(text).split(' ')) {
    const options = /^[0-9]+$/.test(word) ? (DIGITS_TO_WORDS[word] ?? [word]) : [word === 'deg' ? 'degrees' : word]
    forms = forms.flatMap((form) => options.map((option) => [...form, option]))
  }
  return forms.map((form) => form.join(' '))
}

/** What each part is called, by its code: name, what else is said, plain plurals. */
function partPhrases(): Phrases {
  return Object.fromEntries(
    Object.values(PARTS).map((part) => {
      const names = [part.name, ...part.also, ...spokenForms(table.parts, part.code)].map(plain)
      return [part.code, withPlurals(names.filter((name) => !Object.hasOwn(table.unsure, name)))]
    }),
  )
}

/** Words that more than one part is called by. */
function unsureParts(): Phrases {
  return Object.fromEntries(
    Object.entries(table.unsure).flatMap(([word, codes]) => withPlurals([word]).map((form) => [form, codes])),
  )
}

/** What each quantity is called, by its code. */
function quantityPhrases(): Phrases {
  return Object.fromEntries(QUANTITIES.map(({ code }) => [code, [...spokenForms(table.quantities, code)]]))
}

/** What each unit is called when it is spoken, by its code; the unit "" has none. */
function unitPhrases(): Phrases {
  const units = Object.entries(UNITS).filter(([code]) => code !== '')
  return Object.fromEntries(units.map(([code, unit]) => [code, [...unit.said]]))
}

/** What people say for each condition word of vocabulary.json. */
export function conditionPhrases(): Phrases {
  return Object.fromEntries(
    vocabulary.conditions.map(({ word, also }) => [word, unique([word, ...also, ...spokenForms(table.conditions, word)].map(plain))]),
  )
}

/** What people say for each disposition, by its code. */
function dispositionPhrases(): Phrases {
  return Object.fromEntries(Object.entries(table.dispositions).map(([code, list]) => [code, [...list]]))
}

export function dispositionWords(code: string): string {
  return Object.hasOwn(table.disposition_words, code) ? (table.disposition_words as Record<string, string>)[code]! : code
}

/** The pieces that the points of a part are made of, those of its procedures too: top, middle, bottom, thrust, ... */
export function pointPieces(part: string): string[] {
  return Object.hasOwn(PIECES, part) ? [...PIECES[part]!] : []
}

function allPieces(): Phrases {
  const namesByCode: Record<string, Set<string>> = {}
  for (const part of Object.values(PARTS)) namesByCode[part.code] = new Set(part.points.flatMap(piecesOf))
  for (const procedure of procedures.procedures) {
    for (const axis of procedure.grid) for (const value of axis.values) namesByCode[procedure.part]!.add(value.words)
  }
  for (const [part, pieces] of Object.entries(table.more_points)) for (const piece of pieces) namesByCode[part]!.add(piece)
  for (const [code, readings] of Object.entries(table.readings)) {
    for (const piece of Object.values(readings).flat()) namesByCode[PROCEDURES[code]!.part]!.add(piece as string)
  }
  return Object.fromEntries(Object.entries(namesByCode).map(([part, pieces]) => [part, [...pieces]]))
}

function piecesOf(point: string): string[] {
  return Object.hasOwn(table.points, point) ? [point] : point.split(', ')
}

const PIECES = allPieces()

/** What people say for each piece of a point: {"axial": ["axial", "axially", ...], "line 1": ["line one"], ...}. */
export function pointPhrases(): Phrases {
  const pieces = unique(Object.values(PIECES).flat())
  return Object.fromEntries(pieces.map((piece) => [piece, unique([...spoken(piece), ...spokenForms(table.points, piece)])]))
}

/** What any fastener is called: which one it is, the screen or the part beside it says. */
function fastenerPhrases(): string[] {
  return withPlurals(table.fasteners)
}

function withPlurals(phrases: string[]): string[] {
  const plurals = phrases.flatMap((phrase) => {
    const words = phrase.split(' ')
    const last = words.pop()!
    return /^[a-z]+$/.test(last) ? [[...words, plural(singular(last))].join(' ')] : []
  })
  return unique([...phrases, ...plurals])
}

type Entry = [phrase: string, sort: string, code: string]

/** [phrase, sort, code] of the whole table. */
function allPhrases(): Entry[] {
  const byCode: [string, Phrases][] = [
    ['part', partPhrases()], ['quantity', quantityPhrases()], ['unit', unitPhrases()],
    ['condition', conditionPhrases()], ['disposition', dispositionPhrases()], ['point', pointPhrases()],
    ['side', table.sides], ['bank', table.banks.names], ['correction', table.corrections],
  ]
  const coded = byCode.flatMap(([sort, phrases]) =>
    Object.entries(phrases).flatMap(([code, list]) => list.map((phrase): Entry => [phrase, sort, code])),
  )
  const bare = (sort: string, list: string[]) => list.map((phrase): Entry => [phrase, sort, ''])
  return [
    // "Ninety degrees" may be an angle as well: spoken_settle knows which.
    ...coded.filter(([, sort, code]) => !(sort === 'point' && code.endsWith(' deg'))),
    ...Object.entries(unsureParts()).flatMap(([word, codes]) => codes.map((code): Entry => [word, 'part', code])),
    ...bare('fastener', fastenerPhrases()),
    ...CYLINDER_WORDS.map((word): Entry => [word, 'part', 'bore']),
    ...bare('bank_word', table.banks.words.flatMap((word) => [word, plural(word)])),
    ...bare('other_figures', table.other_figures),
    ...bare('hedges', table.hedges),
    ...bare('targets', table.targets),
    ...bare('negations', table.negations),
    ...bare('separators', table.separators),
    ...bare('fillers', table.fillers),
    ...bare('unsure_units', table.unsure_units),
    ...bare('number_sign', NUMBERS.number),
    ...bare('clock', NUMBERS.clock),
    ...bare('to', NUMBERS.to),
    ...bare('between', NUMBERS.between),
    // "line 1" as a recogniser writes it that uses figures.
    ...Object.keys(pointPhrases())
      .filter((piece) => !piece.includes(' deg'))
      .map((piece): Entry => [plain(piece), 'point', piece]),
  ]
}

/** Units as they are written that can be nothing else, for a recogniser that writes words and "mm" in one line. */
function writtenUnits(): Entry[] {
  return Object.entries(UNITS).flatMap(([code, { written }]) =>
    written
      .filter((spelling) => /^[a-z]{2,}$/.test(spelling) && !['in', 'um', 'pa'].includes(spelling))
      .map((spelling): Entry => [spelling, 'unit', code]),
  )
}

export interface Phrase {
  words: string[]
  meanings: Meaning[]
}

/** From the first word of a phrase to its words and what it can mean, the longest phrase first. */
export type Index = Map<string, Phrase[]>

const kept = new Map<string, Index>()

export function index(own: OwnWord[]): Index {
  const key = JSON.stringify(own.map((ownWord) => [ownWord.word, ownWord.means]))
  let cached = kept.get(key)
  if (!cached) {
    if (kept.size >= 32) kept.clear()
    kept.set(key, (cached = makeIndex(own)))
  }
  return cached
}

function makeIndex(own: OwnWord[]): Index {
  const phrases = [...allPhrases(), ...writtenUnits(), ...(table.understood as Entry[])]
  for (const { word, means } of own) {
    const colon = means.indexOf(':')
    const sort = colon < 0 ? means : means.slice(0, colon)
    phrases.push([plain(word), sort || 'own', colon < 0 ? '' : means.slice(colon + 1)])
  }
  const meanings = new Map<string, Meaning[]>()
  for (const [phrase, sort, code] of phrases) {
    const known = meanings.get(phrase) ?? []
    if (!known.some((meaning) => meaning[0] === sort && meaning[1] === code)) known.push([sort, code])
    if (phrase) meanings.set(phrase, known)
  }
  const phrasesByWord: Index = new Map()
  const all = [...meanings].map(([phrase, list]) => ({ words: phrase.split(' '), meanings: list }))
  all.sort((a, b) => b.words.length - a.words.length)
  for (const phrase of all) phrasesByWord.set(phrase.words[0]!, [...(phrasesByWord.get(phrase.words[0]!) ?? []), phrase])
  return phrasesByWord
}
