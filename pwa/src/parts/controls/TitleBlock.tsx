import type { ComponentChildren } from 'preact'
import { say } from '../say.ts'

export interface Cell {
  label: string
  value: ComponentChildren
  /** Share of the row's width; 'fit' is as wide as what stands in it, up to a third. */
  share?: number | 'fit'
  onOpen?: () => void
  /** A cell that needs attention. */
  alert?: boolean
}

// A longer value takes two small lines instead of losing its end.
const LONG = 22

/**
 * The title block of a drawing (the idea is ISO 7200's): small label over value, cell by cell, always on the sheet.
 * A cell with onOpen is a button whose name is its label and its value.
 */
export function TitleBlock({ rows, name = say('title_block.name') }: { rows: Cell[][]; name?: string }) {
  // Rows of the same number of cells stand on one grid, so that their lines run through.
  const aligned = rows.every((row) => row.length === rows[0]?.length)
  return (
    <header class={`title-block${aligned ? ' is-one' : ''}`} aria-label={name} style={aligned ? columns(rows[0] ?? []) : undefined}>
      {rows.map((row, i) => (
        <div class="title-row" key={i} style={aligned ? undefined : columns(row)}>
          {row.map((cell) => (
            <CellView key={cell.label} {...cell} />
          ))}
        </div>
      ))}
    </header>
  )
}

const columns = (row: Cell[]) => ({
  gridTemplateColumns: row.map(({ share = 1 }) => (share === 'fit' ? 'fit-content(34%)' : `minmax(0, ${share}fr)`)).join(' '),
})

function CellView({ label, value, onOpen, alert }: Cell) {
  const inside = (
    <>
      <span class="cell-label">{label}</span>{' '}
      <span class={`cell-value${typeof value === 'string' && value.length > LONG ? ' is-long' : ''}`}>{value}</span>
    </>
  )
  const kind = `cell${alert ? ' is-alert' : ''}`
  if (!onOpen) return <div class={kind}>{inside}</div>
  return (
    <button type="button" class={kind} onClick={onOpen}>
      {inside}
    </button>
  )
}
