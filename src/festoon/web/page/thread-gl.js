/**
 * Thread drawn by the graphics card: two triangles a stitch, shaded as a round satin strand. The stitches lie in textures
 * from which each corner fetches its own; instances of so few corners are slow wherever WebGL2 is drawn by software.
 */

import { THREAD_WIDTH } from "./reckon/stitches.js";

/** Stitches in a row of the textures; WebGL2 promises at least as much. */
const ROW = 2048;

const VERTEX = `#version 300 es
precision highp float;
precision highp int;
precision highp usampler2D;
uniform highp sampler2D ends;   // both ends of each stitch, mm
uniform usampler2D looks;       // its red, green, blue, and its part
uniform vec3 view;      // px a mm, and where the panel's corner lies, device px
uniform vec2 size;      // of the canvas, device px
uniform float width;    // of a thread, mm
uniform highp sampler2D states; // of each part: the matrix that carries it, mm; opacity
out vec3 hue;
out vec2 way;
out float across;
out float along;
out float alpha;
out float wide;
const int ROW = ${ROW};
const vec2 CORNERS[6] = vec2[6](vec2(0, -1), vec2(1, -1), vec2(0, 1), vec2(1, -1), vec2(1, 1), vec2(0, 1));
void main() {
  int stitch = gl_VertexID / 6;
  vec2 corner = CORNERS[gl_VertexID % 6];
  ivec2 cell = ivec2(stitch % ROW, stitch / ROW);
  vec4 line = texelFetch(ends, cell, 0);
  uvec4 look = texelFetch(looks, cell, 0);
  int place = 2 * int(look.a);
  vec4 carry = texelFetch(states, ivec2(place % ROW, place / ROW), 0);
  vec4 state = texelFetch(states, ivec2(place % ROW + 1, place / ROW), 0);
  mat2 turned = mat2(carry.xy, carry.zw);
  vec2 a = (turned * line.xy + state.xy) * view.x + view.yz;
  vec2 b = (turned * line.zw + state.xy) * view.x + view.yz;
  vec2 d = b - a;
  float l = length(d);
  vec2 t = l > 1e-4 ? d / l : vec2(1.0, 0.0);
  vec2 n = vec2(-t.y, t.x);
  float px = width * view.x;
  float half_width = max(px, 1.3) * 0.5;
  vec2 at = mix(a - t * half_width * 0.6, b + t * half_width * 0.6, corner.x) + n * corner.y * (half_width + 0.6);
  gl_Position = vec4(at / size * vec2(2.0, -2.0) + vec2(-1.0, 1.0), 0.0, 1.0);
  hue = vec3(look.rgb) / 255.0;
  way = t;
  across = corner.y * (half_width + 0.6) / half_width;
  along = corner.x * l / max(px, 1.0);
  alpha = state.z * mix(0.72, 1.0, smoothstep(0.5, 1.6, px));
  wide = half_width;
}`;

// A strand's light is strongest where the light's half vector stands square to it (Kajiya and Kay 1989).
const FRAGMENT = `#version 300 es
precision highp float;
in vec3 hue;
in vec2 way;
in float across;
in float along;
in float alpha;
in float wide;
out vec4 shown;
void main() {
  float edge = clamp((1.0 - abs(across)) * wide + 0.5, 0.0, 1.0);
  float v = clamp(across, -1.0, 1.0);
  vec2 n = vec2(-way.y, way.x);
  vec3 normal = vec3(n * v, sqrt(max(0.0, 1.0 - v * v)));
  vec3 light = normalize(vec3(-0.45, -0.62, 0.64));
  vec3 h = normalize(light + vec3(0.0, 0.0, 1.0));
  float th = dot(vec3(way, 0.0), h);
  float sheen = pow(max(0.0, 1.0 - th * th), 9.0);
  float round_light = max(0.0, dot(normal, light));
  float detail = smoothstep(1.0, 2.5, wide);
  float twist = 1.0 - 0.10 * smoothstep(2.5, 6.0, wide) * (0.5 + 0.5 * sin(6.2832 * (along * 1.1 + v * 0.6)));
  float body = mix(0.84, 0.46 + 0.62 * round_light, 0.35 + 0.65 * detail);
  vec3 lit = hue * body * twist * (0.80 + 0.34 * sheen);
  lit += (0.25 + 0.75 * hue) * 0.30 * sheen * pow(max(0.0, dot(normal, h)), 6.0);
  shown = vec4(lit, 1.0) * edge * alpha;
}`;

export class GlThread {
  /**
   * @param {HTMLCanvasElement} canvas
   * @returns {GlThread | null} null where there is no WebGL2
   */
  static on(canvas) {
    const gl = canvas.getContext("webgl2", { alpha: true, antialias: false, premultipliedAlpha: true, preserveDrawingBuffer: true });
    return gl ? new GlThread(gl, canvas) : null;
  }

  /**
   * @param {WebGL2RenderingContext} gl
   * @param {HTMLCanvasElement} canvas
   */
  constructor(gl, canvas) {
    this.gl = gl;
    this.canvas = canvas;
    this.program = linked(gl);
    this.place = Object.fromEntries(
      ["view", "size", "width", "ends", "looks", "states"].map((name) => [name, gl.getUniformLocation(this.program, name)]),
    );
    this.states = gl.createTexture();
    /** @type {Map<import("./reckon/stitches.js").Laid, (WebGLTexture | null)[]>} what the card has: ends and looks */
    this.sent = new Map();
    /** @type {WebGLSync | null} */
    this.fence = null;
  }

  /** New thread: what was sent before is forgotten. */
  forget() {
    for (const texture of [...this.sent.values()].flat()) this.gl.deleteTexture(texture);
    this.sent.clear();
  }

  /** What is drawn from now on; sent to the card once. @param {import("./reckon/stitches.js").Laid} laid */
  load(laid) {
    const known = this.sent.get(laid);
    const textures = known ?? [this.gl.createTexture(), this.gl.createTexture()];
    this.sent.set(laid, textures);
    this.#texture(0, textures[0]);
    this.#texture(1, textures[1]);
    if (!known) this.#send(laid);
  }

  /** @param {import("./reckon/stitches.js").Laid} laid */
  #send(laid) {
    const { gl } = this;
    const rows = Math.max(1, Math.ceil(laid.count / ROW));
    const ends = new Float32Array(4 * ROW * rows);
    ends.set(laid.segments);
    const looks = new Uint16Array(4 * ROW * rows);
    looks.set(laid.colours);
    for (let i = 0; i < laid.count; i += 1) looks[4 * i + 3] = laid.parts[i];
    gl.activeTexture(gl.TEXTURE0);
    gl.texImage2D(gl.TEXTURE_2D, 0, gl.RGBA32F, ROW, rows, 0, gl.RGBA, gl.FLOAT, ends);
    gl.activeTexture(gl.TEXTURE1);
    gl.texImage2D(gl.TEXTURE_2D, 0, gl.RGBA16UI, ROW, rows, 0, gl.RGBA_INTEGER, gl.UNSIGNED_SHORT, looks);
  }

  /**
   * Begins a picture: nothing on it yet.
   * @param {number} width device px
   * @param {number} height
   * @param {import("./reckon/view.js").View} view mm to device px
   * @param {Float32Array} states as statesOf gives them
   */
  begin(width, height, view, states) {
    const { gl, place, canvas } = this;
    if (canvas.width !== width || canvas.height !== height) Object.assign(canvas, { width, height });
    gl.viewport(0, 0, width, height);
    gl.clearColor(0, 0, 0, 0);
    gl.clear(gl.COLOR_BUFFER_BIT);
    gl.enable(gl.BLEND);
    gl.blendFunc(gl.ONE, gl.ONE_MINUS_SRC_ALPHA);
    gl.useProgram(this.program);
    this.#texture(2, this.states);
    const rows = Math.ceil(states.length / 4 / ROW);
    const whole = new Float32Array(4 * ROW * rows);
    whole.set(states);
    gl.texImage2D(gl.TEXTURE_2D, 0, gl.RGBA32F, ROW, rows, 0, gl.RGBA, gl.FLOAT, whole);
    gl.uniform1i(place.ends, 0);
    gl.uniform1i(place.looks, 1);
    gl.uniform1i(place.states, 2);
    gl.uniform3f(place.view, view.scale, view.x, view.y);
    gl.uniform2f(place.size, width, height);
    gl.uniform1f(place.width, THREAD_WIDTH);
  }

  /**
   * Draws the stitches from one to another, over what is there.
   * @param {number} from
   * @param {number} to
   */
  add(from, to) {
    this.gl.drawArrays(this.gl.TRIANGLES, 6 * from, 6 * (to - from));
  }

  /** Marks the end of a stretch of drawing, so that `idle` can tell when it is done. */
  mark() {
    this.fence = this.gl.fenceSync(this.gl.SYNC_GPU_COMMANDS_COMPLETE, 0);
    this.gl.flush();
  }

  /** Whether all that was drawn up to the last mark is there. */
  get idle() {
    const { gl, fence } = this;
    if (fence && !gl.isContextLost() && gl.getSyncParameter(fence, gl.SYNC_STATUS) !== gl.SIGNALED) return false;
    gl.deleteSync(fence);
    this.fence = null;
    return true;
  }

  /**
   * @param {number} unit
   * @param {WebGLTexture | null} texture
   */
  #texture(unit, texture) {
    const { gl } = this;
    gl.activeTexture(gl.TEXTURE0 + unit);
    gl.bindTexture(gl.TEXTURE_2D, texture);
    gl.texParameteri(gl.TEXTURE_2D, gl.TEXTURE_MIN_FILTER, gl.NEAREST);
    gl.texParameteri(gl.TEXTURE_2D, gl.TEXTURE_MAG_FILTER, gl.NEAREST);
  }
}

/** @param {WebGL2RenderingContext} gl */
function linked(gl) {
  const program = gl.createProgram();
  for (const [type, text] of /** @type {[number, string][]} */ ([[gl.VERTEX_SHADER, VERTEX], [gl.FRAGMENT_SHADER, FRAGMENT]])) {
    const shader = /** @type {WebGLShader} */ (gl.createShader(type));
    gl.shaderSource(shader, text);
    gl.compileShader(shader);
    gl.attachShader(program, shader);
  }
  gl.linkProgram(program);
  if (!gl.getProgramParameter(program, gl.LINK_STATUS)) throw new Error(gl.getProgramInfoLog(program) ?? "no program");
  return program;
}
