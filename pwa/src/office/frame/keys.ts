// One listener for the whole office: the topmost layer that has a key handles it.

import { useLayoutEffect, useState } from 'preact/hooks'

export type KeyMap = Record<string, (event: KeyboardEvent) => void>

const layers: { current: KeyMap; alone: boolean }[] = []

/** The name of a key in a KeyMap: "ArrowDown", "j", "/", "?", "shift+Enter". */
export function keyName(event: Pick<KeyboardEvent, 'key' | 'shiftKey'>): string {
  return event.shiftKey && event.key.length > 1 ? `shift+${event.key}` : event.key
}

/** True where keys belong to what is being typed. */
export function isTyping(target: EventTarget | null): boolean {
  const element = target as HTMLElement | null
  if (!element?.tagName) return false
  if (element.isContentEditable || element.tagName === 'TEXTAREA' || element.tagName === 'SELECT') return true
  return (
    element.tagName === 'INPUT' && !['checkbox', 'radio', 'button', 'file'].includes((element as HTMLInputElement).type)
  )
}

/** Offers a key to the layers from the top; returns whether one handled it. */
export function offer(event: KeyboardEvent): boolean {
  if (event.ctrlKey || event.metaKey || event.altKey || event.defaultPrevented) return false
  if (isTyping(event.target) && event.key !== 'Escape') return false
  // Enter and the space bar belong to the button or link that has the focus; what is chosen already leaves them to the page.
  const owner = (event.target as HTMLElement | null)?.closest?.('button:not([aria-current]), a, summary, input')
  if (owner && (event.key === 'Enter' || event.key === ' ')) return false
  for (const layer of [...layers].reverse()) {
    const act = layer.current[keyName(event)]
    if (act) {
      event.preventDefault()
      act(event)
      return true
    }
    if (layer.alone) return false
  }
  return false
}

/** Adds a layer of keys while the component is mounted; `alone` keeps keys from the layers under it. */
export function useKeys(map: KeyMap, alone = false): void {
  const layer = useLayer(alone)
  layer.current = map
}

function useLayer(alone: boolean) {
  const [layer] = useState(() => ({ current: {} as KeyMap, alone }))
  // Before the page is painted: a key pressed as soon as the page is seen must not be lost.
  useLayoutEffect(() => {
    layers.push(layer)
    return () => {
      layers.splice(layers.indexOf(layer), 1)
    }
  }, [layer])
  return layer
}

/** Called once, when the office starts. */
export function listen(): void {
  addEventListener('keydown', offer)
}
