interface Props {
  label: string
  checked: boolean
  onChange: (checked: boolean) => void
  wide?: boolean
}

/** A box to tick. */
export function Tick({ label, checked, onChange, wide }: Props) {
  return (
    <label class={`along tick${wide ? ' wide' : ''}`}>
      <input type="checkbox" checked={checked} onChange={(event) => onChange(event.currentTarget.checked)} />
      <span>{label}</span>
    </label>
  )
}
