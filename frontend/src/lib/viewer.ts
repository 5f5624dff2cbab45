// The wall in the round: the engine's glTF, turned by pointer or keys. Drawn only when something changes.
import {
  AmbientLight, Box3, Color, DirectionalLight, FrontSide, Mesh, MeshStandardMaterial, type Object3D, PerspectiveCamera, Scene, Spherical, Vector3, WebGLRenderer,
} from 'three'
import { OrbitControls } from 'three/addons/controls/OrbitControls.js'
import { GLTFLoader } from 'three/addons/loaders/GLTFLoader.js'
import { ASIDE, fitted, HIGHEST, LOWEST } from './view3d'

export interface Viewer {
  load(url: string): Promise<void>
  key(event: KeyboardEvent): void
  /** All of it in view again: straight from the front, or from a little aside. */
  stand(front: boolean): void
  /** By night: the room dark, what glows glowing. */
  light(night: boolean): void
  dispose(): void
}

export function createViewer(canvas: HTMLCanvasElement): Viewer {
  const renderer = new WebGLRenderer({ canvas, antialias: true })
  const scene = new Scene()
  const camera = new PerspectiveCamera(35, 1, 0.05, 200)
  const lamp = new DirectionalLight(0xffffff, 1.8) // goes with the eye, so that no face looked at is black
  lamp.position.set(0.6, 1, 1)
  camera.add(lamp)
  const sky = new AmbientLight(0xffffff, 1.3)
  scene.add(camera, sky)
  const controls = new OrbitControls(camera, canvas)
  controls.minAzimuthAngle = -ASIDE // in the room, never behind the wall
  controls.maxAzimuthAngle = ASIDE
  controls.minPolarAngle = HIGHEST
  controls.maxPolarAngle = LOWEST // never under the floor
  controls.rotateSpeed = 0.5
  controls.enablePan = false
  const loader = new GLTFLoader()
  let model: Object3D | null = null
  let asked = ''
  let touched = false
  let front = false
  let dark = false

  const render = () => renderer.render(scene, camera)
  controls.addEventListener('change', () => {
    canvas.dataset.eye = camera.position.toArray().map((n) => n.toFixed(3)).join(' ')
    render()
  })
  controls.addEventListener('start', () => (touched = true))

  function fit(): void {
    const { clientWidth: width, clientHeight: height } = canvas
    if (!width || !height) return
    renderer.setPixelRatio(Math.min(window.devicePixelRatio, 2))
    renderer.setSize(width, height, false)
    camera.aspect = width / height
    camera.updateProjectionMatrix()
    const ground = getComputedStyle(document.documentElement).getPropertyValue('--sheet').trim() || '#fff'
    scene.background = new Color(dark ? '#15130f' : ground)
    if (touched) render()
    else stand(front)
  }
  const watch = new ResizeObserver(fit)
  watch.observe(canvas)

  /** Seen from the room, a little from the right and above, or straight from the front; all of it in view. */
  function stand(straight: boolean): void {
    if (!model) return
    front = straight
    touched = false
    const turn = straight ? new Vector3(0, 0.02, 1) : new Vector3(0.4, 0.22, 1)
    controls.minDistance = 0
    controls.maxDistance = Infinity
    controls.target.copy(fitted(camera, new Box3().setFromObject(model), turn.normalize()))
    const away = camera.position.distanceTo(controls.target)
    controls.minDistance = away * 0.35
    controls.maxDistance = away * 1.5
    controls.update()
    canvas.dataset.eye = camera.position.toArray().map((n) => n.toFixed(3)).join(' ')
    render()
  }

  function turn(across: number, up: number, nearer: number): void {
    touched = true
    const from = new Spherical().setFromVector3(camera.position.clone().sub(controls.target))
    from.theta = Math.min(ASIDE, Math.max(-ASIDE, from.theta + across))
    from.phi = Math.min(LOWEST, Math.max(HIGHEST, from.phi + up))
    from.radius *= nearer
    camera.position.setFromSpherical(from).add(controls.target)
    controls.update()
    render()
  }

  /** Strips give off more at night than the model's own modest share, so that one sees them light. */
  function glow(part: Object3D): void {
    if (!(part instanceof Mesh)) return
    for (const material of [part.material].flat()) if (material instanceof MeshStandardMaterial) material.emissiveIntensity = dark ? 8 : 0.6
  }

  return {
    async load(url) {
      asked = url
      const { scene: loaded } = await loader.loadAsync(url)
      if (asked !== url) return
      loaded.traverse((part) => {
        if (part instanceof Mesh) for (const material of [part.material].flat()) material.side = FrontSide
      })
      if (model) scene.remove(model)
      model = loaded
      scene.add(loaded)
      loaded.traverse(glow)
      fit()
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
    stand,
    light(night) {
      dark = night
      lamp.intensity = night ? 0.12 : 1.8
      sky.intensity = night ? 0.14 : 1.3
      model?.traverse(glow)
      fit()
    },
    dispose() {
      watch.disconnect()
      controls.dispose()
      renderer.dispose()
    },
  }
}
