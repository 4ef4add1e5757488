import type { ComponentChildren } from 'preact'

export interface Cell {
  label: string
  value: ComponentChildren
  /** Share of the row's width. */
  share?: number
  onOpen?: () => void
  /** A cell that asks to be looked at. */
  alert?: boolean
}

// A longer value takes two small lines instead of losing its end.
const LONG = 22

/**
 * The title block of a drawing (the idea is ISO 7200's): small label over value, cell by cell, always on the sheet.
 * A cell with onOpen is a button whose name is its label and its value.
 */
export function TitleBlock({ rows, name = 'Title block' }: { rows: Cell[][]; name?: string }) {
  return (
    <header class="title-block" aria-label={name}>
      {rows.map((row, i) => (
        <div class="title-row" key={i} style={{ gridTemplateColumns: row.map((c) => `minmax(0, ${c.share ?? 1}fr)`).join(' ') }}>
          {row.map((cell) => (
            <CellView key={cell.label} {...cell} />
          ))}
        </div>
      ))}
    </header>
  )
}

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
