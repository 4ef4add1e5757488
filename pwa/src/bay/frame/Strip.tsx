import { useEffect, useRef } from 'preact/hooks'

export interface StripItem {
  value: string
  words: string
  /** The name for the ear, where the words alone are too short. */
  name?: string
}

/** A row of small buttons that slides sideways; the chosen one is always in sight. */
export function Strip(props: { name: string; items: StripItem[]; chosen: string; onChoose: (value: string) => void; kind?: 'points' | 'inset' }) {
  const row = useRef<HTMLDivElement>(null)
  useEffect(() => {
    const button = row.current?.querySelector<HTMLElement>('[aria-pressed="true"]')
    if (!row.current || !button) return
    row.current.scrollLeft = button.offsetLeft - (row.current.clientWidth - button.offsetWidth) / 2
  }, [props.chosen, props.items.length])
  return (
    <div class={`keeps strip slides${props.kind ? ` is-${props.kind}` : ''}`} role="group" aria-label={props.name} ref={row}>
      {props.items.map((item) => (
        <button class="small keeps one-line ring-inside" key={item.value} type="button" aria-label={item.name} aria-pressed={item.value === props.chosen} onClick={() => props.onChoose(item.value)}>
          {item.words}
        </button>
      ))}
    </div>
  )
}
