// Shapes of spoken measurements and findings: what the screen says, what a line of speech comes to.

export type ScreenSort = 'measure' | 'finding' | 'tighten' | 'any'

/** What the phone shows while somebody speaks. Empty texts and lists: nothing is set. */
export interface Screen {
  /** any: no screen in particular, the whole vocabulary. */
  sort: ScreenSort
  /** A place such as "bore/3". */
  place: string
  point: string
  /** A procedure and one reading of it. */
  procedure: string
  reading: string
  quantity: string
  /** The units offered there; none means all of the quantity. */
  units: string[]
}

/** A word of the workshop's own. */
export interface OwnWord {
  word: string
  /** Phrases of known words that it sounds like. */
  sounds_like: string[]
  /** "", "part:<code>", "condition:<word>", "quantity:<code>" or "disposition:<code>". */
  means: string
}

/** What is still to be said or chosen before it can be a record. */
export type Ask = 'place' | 'point' | 'quantity' | 'value' | 'digits' | 'unit' | 'condition' | 'disposition' | 'again'

/** What a line of speech comes to: offered to a person, never recorded without a tap. */
export interface Proposal {
  /** "" when none is known, and when what was spoken of is not there or not one place of the engine. */
  place: string
  /** A place was spoken of, found or not. */
  place_spoken: boolean
  point: string
  quantity: string
  /** A quantity was spoken of; "" then: none of those that are measured, or several. */
  quantity_spoken: boolean
  /** Digits exactly as spoken: "88.90" is not "88.9". */
  value: string
  /** The upper end of "fifteen to twenty". */
  value_to: string
  /** Only as spoken, never a default. */
  unit: string
  /** Words of vocabulary.json. */
  conditions: string[]
  disposition: string
  asks: Ask[]
  /** Readings of doubtful digits, offered, never taken. */
  maybe: string[]
  /** "No, scrap that" with nothing after it. */
  withdrawn: boolean
  /** Words that meant nothing. */
  left: string[]
}
