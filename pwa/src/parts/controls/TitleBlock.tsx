import type { ComponentChildren } from 'preact'
import { say } from '../words/say.ts'
import './cells.css'

export interface Cell {
  label: string
  value: ComponentChildren
  /** Share of the row's width; 'fit' is as wide as what stands in it, up to a third. */
  share?: number | 'fit'
  onOpen?: () => void
  /** A cell that needs attention. */
  alert?: boolean
}

// A longer value takes two small lines instead of losing its end; a cell that is only as wide as its words gets there sooner.
const LONG = 22
const LONG_FIT = 13

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

function CellView({ label, value, share, onOpen, alert }: Cell) {
  const long = typeof value === 'string' && value.length > (share === 'fit' ? LONG_FIT : LONG)
  const inside = (
    <>
      <span class="cell-label">{label}</span>{' '}
      <span class={`cell-value${long ? ' is-long' : ''}`}>{value}</span>
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
