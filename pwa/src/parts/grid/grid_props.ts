// What the drawing of a grid is asked for, and what each view of a part is drawn from.

export interface GridDrawingProps {
  /** As a procedure names it: bore, journal, housing, face, lobe or pin. A list is not drawn: its words are its drawing. */
  drawing: string
  axes: { axis: string; words: string; values: { code: string; words: string }[] }[]
  /** Every reading that is asked for, those of the grid as 'top/thrust'. */
  readings: { code: string; words: string }[]
  /** The reading that comes next; '' for none. */
  next: string
  /** Readings that are there. */
  taken: ReadonlySet<string>
}

/** What a view is drawn from: where `code` lies on each axis (-1 for a reading beside the grid), and what is there. */
export interface Next {
  axes: GridDrawingProps['axes']
  code: string
  next: number[]
  has: (code: string) => boolean
  /** Unique on the page. */
  id: string
}
