// The wall in the round: the engine's glTF, turned by pointer or keys. Drawn only when something changes.
import {
  AmbientLight, Box3, Color, DirectionalLight, type Object3D, PerspectiveCamera, Scene, Spherical, Vector3, WebGLRenderer,
} from 'three'
import { OrbitControls } from 'three/addons/controls/OrbitControls.js'
import { GLTFLoader } from 'three/addons/loaders/GLTFLoader.js'

export interface Viewer {
  load(url: string): Promise<void>
  key(event: KeyboardEvent): void
  dispose(): void
}

export function createViewer(canvas: HTMLCanvasElement): Viewer {
  const renderer = new WebGLRenderer({ canvas, antialias: true })
  const scene = new Scene()
  const camera = new PerspectiveCamera(35, 1, 0.05, 100)
  const lamp = new DirectionalLight(0xffffff, 1.8) // goes with the eye, so that no face looked at is black
  lamp.position.set(0.6, 1, 1)
  camera.add(lamp)
  scene.add(camera, new AmbientLight(0xffffff, 1.3))
  const controls = new OrbitControls(camera, canvas)
  const loader = new GLTFLoader()
  let model: Object3D | null = null
  let asked = ''

  const render = () => renderer.render(scene, camera)
  controls.addEventListener('change', render)

  function fit(): void {
    const { clientWidth: width, clientHeight: height } = canvas
    if (!width || !height) return
    renderer.setPixelRatio(Math.min(window.devicePixelRatio, 2))
    renderer.setSize(width, height, false)
    camera.aspect = width / height
    camera.updateProjectionMatrix()
    scene.background = new Color(getComputedStyle(document.documentElement).getPropertyValue('--sheet').trim() || '#fff')
    render()
  }
  const watch = new ResizeObserver(fit)
  watch.observe(canvas)

  /** Seen from the room, a little from the right and above, all of it in view. */
  function stand(front: boolean): void {
    if (!model) return
    const box = new Box3().setFromObject(model)
    const size = box.getSize(new Vector3())
    const centre = box.getCenter(new Vector3())
    const half = Math.tan((camera.fov * Math.PI) / 360)
    const away = Math.max(size.y / 2 / half, size.x / 2 / half / camera.aspect) * 1.05 + size.z * 0.45
    const turn = front ? new Vector3(0, 0, 1) : new Vector3(0.45, 0.22, 1).normalize()
    camera.position.copy(centre).addScaledVector(turn, away)
    controls.target.copy(centre)
    controls.update()
    render()
  }

  function turn(across: number, up: number, nearer: number): void {
    const from = new Spherical().setFromVector3(camera.position.clone().sub(controls.target))
    from.theta += across
    from.phi = Math.min(Math.PI - 0.05, Math.max(0.05, from.phi + up))
    from.radius *= nearer
    camera.position.setFromSpherical(from).add(controls.target)
    controls.update()
    render()
  }

  return {
    async load(url) {
      asked = url
      const { scene: loaded } = await loader.loadAsync(url)
      if (asked !== url) return
      const first = model === null
      if (model) scene.remove(model)
      model = loaded
      scene.add(loaded)
      fit()
      if (first) stand(false)
      else render()
    },
    key(event) {
      const moves: Record<string, [number, number, number]> = {
        ArrowLeft: [-0.1, 0, 1], ArrowRight: [0.1, 0, 1], ArrowUp: [0, -0.1, 1], ArrowDown: [0, 0.1, 1],
        '+': [0, 0, 0.9], '=': [0, 0, 0.9], '-': [0, 0, 1.1],
      }
      const move = moves[event.key]
      if (event.key === 'Home') stand(true)
      else if (move) turn(...move)
      else return
      event.preventDefault()
    },
    dispose() {
      watch.disconnect()
      controls.dispose()
      renderer.dispose()
    },
  }
}
