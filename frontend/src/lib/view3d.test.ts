import { expect, test } from 'vitest'
import { Box3, PerspectiveCamera, Vector3 } from 'three'
import { corners, fitted } from './view3d'

const ROOM = new Box3(new Vector3(0, -0.02, -0.1), new Vector3(4.2, 2.75, 3.2))

test.each([
  [1.8, [0, 0, 1]], [0.7, [0, 0, 1]], [1.8, [0.45, 0.25, 1]], [0.6, [-0.9, 0.4, 0.6]],
] as [number, [number, number, number]][])('all of the model is in view and in its middle (aspect %s, from %s)', (aspect, from) => {
  const camera = new PerspectiveCamera(35, aspect, 0.05, 200)
  camera.updateProjectionMatrix()
  const target = fitted(camera, ROOM, new Vector3(...from).normalize())
  const seen = corners(ROOM).map((end) => end.project(camera))
  const xs = seen.map((p) => p.x)
  const ys = seen.map((p) => p.y)
  expect(Math.max(...xs.map(Math.abs), ...ys.map(Math.abs))).toBeLessThanOrEqual(1)
  const fill = Math.max(Math.max(...xs) - Math.min(...xs), Math.max(...ys) - Math.min(...ys)) / 2
  expect(fill).toBeGreaterThan(0.88)
  expect(Math.max(...xs) + Math.min(...xs)).toBeCloseTo(0, 1)
  expect(Math.max(...ys) + Math.min(...ys)).toBeCloseTo(0, 1)
  expect(camera.position.z).toBeGreaterThan(target.z)
})
