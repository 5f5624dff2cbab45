// Where the eye stands before the wall: always on the room's side, with all of the model in view.
import { Box3, type PerspectiveCamera, Vector3 } from 'three'

/** The furthest the eye goes aside of straight before the wall, and from level to above it [radians]. */
export const ASIDE = (65 * Math.PI) / 180
export const LOWEST = Math.PI / 2 - 0.02
export const HIGHEST = 0.5

export function corners(box: Box3): Vector3[] {
  const { min, max } = box
  return [min.x, max.x].flatMap((x) => [min.y, max.y].flatMap((y) => [min.z, max.z].map((z) => new Vector3(x, y, z))))
}

/** Put the eye in this direction from the model so that the model fills the view and stands in its middle; returns what it looks at. */
export function fitted(camera: PerspectiveCamera, box: Box3, direction: Vector3, margin = 1.06): Vector3 {
  const target = box.getCenter(new Vector3())
  const ends = corners(box)
  const tall = Math.tan((camera.fov * Math.PI) / 360)
  const wide = tall * camera.aspect
  let away = box.getSize(new Vector3()).length() * 2
  for (let turn = 0; turn < 12; turn += 1) {
    camera.position.copy(target).addScaledVector(direction, away)
    camera.lookAt(target)
    camera.updateMatrixWorld(true)
    const seen = ends.map((end) => end.clone().applyMatrix4(camera.matrixWorldInverse))
    const across = seen.map((p) => p.x / -p.z / wide)
    const up = seen.map((p) => p.y / -p.z / tall)
    const middle = { x: (Math.min(...across) + Math.max(...across)) / 2, y: (Math.min(...up) + Math.max(...up)) / 2 }
    const half = Math.max(Math.max(...across) - Math.min(...across), Math.max(...up) - Math.min(...up)) / 2
    const right = new Vector3().setFromMatrixColumn(camera.matrixWorld, 0)
    const upward = new Vector3().setFromMatrixColumn(camera.matrixWorld, 1)
    target.addScaledVector(right, middle.x * wide * away).addScaledVector(upward, middle.y * tall * away)
    away *= half * margin
  }
  camera.position.copy(target).addScaledVector(direction, away)
  camera.lookAt(target)
  camera.updateMatrixWorld(true)
  return target
}
