/** A drag by pointer: captured, ended by letting go, called off by Esc. `by` is in px from where it began. */
export interface Gesture {
  move(by: { x: number; y: number }): void
  drop(): void
  cancel(): void
}

const SLACK = 3 // px before a press becomes a drag

export function startDrag(event: PointerEvent, gesture: Gesture): void {
  if (event.button !== 0) return
  const element = event.currentTarget as HTMLElement | SVGElement
  const id = event.pointerId
  let moved = false
  element.setPointerCapture(id)

  const move = (e: Event) => {
    const pointer = e as PointerEvent
    if (pointer.pointerId !== id) return
    const by = { x: pointer.clientX - event.clientX, y: pointer.clientY - event.clientY }
    if (!moved && Math.hypot(by.x, by.y) < SLACK) return
    moved = true
    gesture.move(by)
  }
  const up = (e: Event) => {
    if ((e as PointerEvent).pointerId !== id) return
    end()
    if (!moved) return
    if (e.type === 'pointerup') gesture.drop()
    else gesture.cancel()
  }
  const key = (e: KeyboardEvent) => {
    if (e.key !== 'Escape') return
    e.preventDefault()
    e.stopPropagation()
    end()
    gesture.cancel()
  }
  const end = () => {
    element.removeEventListener('pointermove', move)
    element.removeEventListener('pointerup', up)
    element.removeEventListener('pointercancel', up)
    element.removeEventListener('lostpointercapture', up)
    window.removeEventListener('keydown', key, true)
    if (element.hasPointerCapture(id)) element.releasePointerCapture(id)
  }
  element.addEventListener('pointermove', move)
  element.addEventListener('pointerup', up)
  element.addEventListener('pointercancel', up)
  element.addEventListener('lostpointercapture', up)
  window.addEventListener('keydown', key, true)
}
