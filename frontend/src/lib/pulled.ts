// A thing that is dragged by the edit that moves it: where its values would be, and where it is shown meanwhile.
import type { Box, Change, Move, Spot, Thing } from './api'
import { clamp, snap } from './snap'

export interface Pulled {
  thing: Thing
  across: number
  up: number
  /** Another place that it snapped to. */
  spot?: Spot | null
}

/** The edit that puts it there. move : as it is by now; it may be another once the thing is pinned. */
export function changeOf(pulled: Pulled, move: Move): Change {
  const { edit, with: given, across, up } = move
  const own = pulled.spot ? pulled.spot.with : { ...(across ? { [across]: pulled.across } : {}), ...(up ? { [up]: pulled.up } : {}) }
  return { edit, with: { ...given, ...own }, also: [], marks: {} }
}

/** Where it is shown on the wall, before the engine has drawn it there. */
export function boxOf(thing: Thing, pulled: Pulled | null): Box {
  const move = thing.move
  if (!pulled || !move || pulled.thing.ref !== thing.ref) return thing.box
  if (pulled.spot) return pulled.spot.box
  if (move.deep) return thing.box // towards the wall or away from it: not seen from the front
  if (move.inward) {
    const by = pulled.up - move.at_up
    return { x: thing.box.x + by, z: thing.box.z, width: Math.max(0, thing.box.width - 2 * by), height: Math.max(0, thing.box.height - by) }
  }
  return { ...thing.box, x: thing.box.x + pulled.across - move.at_across, z: thing.box.z + pulled.up - move.at_up }
}

/** Drawn in from its edge: no further than there is room. */
export const drawnIn = (move: Move, to: number) => clamp(snap(to, [], 5), 0, move.most ?? Infinity)

/** The spot whose line the pointer is at. All in mm; reach : how near. */
export function spotAt(move: Move, at: { x: number; z: number }, reach: number): Spot | null {
  const away = ({ box }: Spot) =>
    Math.hypot(Math.max(box.x - at.x, 0, at.x - box.x - box.width), Math.max(box.z - at.z, 0, at.z - box.z - box.height))
  return move.spots.reduce<Spot | null>((best, spot) => (away(spot) <= (best ? Math.min(reach, away(best) - 1e-9) : reach) ? spot : best), null)
}

/** By a key: drawn in or out, or to the spot before or after. null = that key does nothing here. */
export function byKey(move: Move, from: Pulled, key: string, by: number): Pulled | null {
  const aside = key === 'ArrowLeft' || key === 'ArrowRight'
  if (!move.inward) {
    return { ...from, across: aside ? Math.max(0, from.across + by) : from.across, up: aside ? from.up : Math.max(0, from.up + by) }
  }
  if (aside && move.deep) {
    if (!move.spots.length) return null
    const middle = (box: Box) => box.x + box.width / 2
    const places = [null, ...move.spots].sort((a, b) => middle(a?.box ?? from.thing.box) - middle(b?.box ?? from.thing.box))
    const now = places.findIndex((spot) => spot?.says === from.spot?.says)
    return { ...from, spot: places[clamp(now + Math.sign(by), 0, places.length - 1)]! }
  }
  return { ...from, spot: null, up: clamp(from.up + (move.deep ? by : -by), 0, move.most ?? Infinity) }
}
