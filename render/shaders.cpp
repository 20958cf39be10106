#include "render/shaders.h"

#include <string>

namespace hoopwright {
namespace {

constexpr const char* kVersion = "#version 120\n#pragma import_defines(CUT, BACK)\n";

// Leaves out what lies beyond the section; the twentieth of a millimetre keeps what is drawn in its plane.
constexpr const char* kSectionText = R"(
#ifdef CUT
uniform vec4 section;
void keepOneSide(vec3 p) { if (dot(section, vec4(p, 1.0)) > 0.05) discard; }
#else
void keepOneSide(vec3 p) {}
#endif
)";

// Light of the studio from direction d (world), blurred by r. Soft boxes are rectangles on planes at distance
// one.
constexpr const char* kStudio = R"(
uniform float dark;
float softBox(vec3 d, vec3 k, vec3 u, vec2 half_size, float r) {
  float along = dot(d, k);
  if (along <= 0.001) return 0.0;
  vec2 p = abs(vec2(dot(d, u), dot(d, cross(k, u))) / along);
  float e = 0.04 + 0.9 * r;
  vec2 s = smoothstep(half_size + e, half_size - e, p);
  return s.x * s.y;
}
vec3 studio(vec3 d, float r) {
  float w = 0.05 + 0.8 * r;
  vec3 sky = mix(vec3(0.42, 0.44, 0.47), vec3(0.13, 0.14, 0.16), smoothstep(0.0, 0.7 + r, d.z));
  vec3 floor_light = mix(vec3(0.17, 0.17, 0.175), vec3(0.66, 0.65, 0.63), smoothstep(0.0, 0.45 + r, -d.z));
  floor_light *= mix(1.0, 0.55, smoothstep(0.55 - 0.3 * r, 1.0, -d.z));
  vec3 c = mix(floor_light, sky, smoothstep(-w, w, d.z));
  c *= mix(1.0, 0.55, dark);
  c += vec3(4.7, 4.55, 4.3) * softBox(d, vec3(0.2999, 0.5199, 0.7998), vec3(0.9540, -0.1635, -0.2515), vec2(0.75, 0.24), r);
  c += vec3(1.9, 2.05, 2.3) * softBox(d, vec3(0.382, -0.850, 0.362), vec3(0.912, 0.410, 0.0), vec2(0.95, 0.26), r);
  c += vec3(2.6, 2.7, 2.9) * softBox(d, vec3(-0.861, 0.091, 0.500), vec3(0.105, 0.994, 0.0), vec2(1.10, 0.13), r);
  c += vec3(1.3, 1.25, 1.2) * softBox(d, vec3(0.947, 0.242, 0.212), vec3(-0.248, 0.969, 0.0), vec2(0.18, 0.55), r);
  return c;
}
vec3 diffuseLight(vec3 n, float ao, float key) {
  vec3 c = mix(vec3(0.34, 0.33, 0.315), vec3(0.40, 0.42, 0.45), n.z * 0.5 + 0.5) * ao;
  c += vec3(1.30, 1.25, 1.17) * max(dot(n, vec3(0.2999, 0.5199, 0.7998)), 0.0) * key;
  c += (vec3(0.26, 0.29, 0.34) * max(dot(n, vec3(0.382, -0.850, 0.362)), 0.0)
      + vec3(0.26, 0.27, 0.30) * max(dot(n, vec3(-0.861, 0.091, 0.500)), 0.0)
      + vec3(0.18, 0.175, 0.17) * max(dot(n, vec3(0.947, 0.242, 0.212)), 0.0)) * ao;
  return c * mix(1.0, 0.72, dark);
}
vec3 develop(vec3 c) {
  c *= 1.02;
  c = c * (1.0 + c / 6.5) / (1.0 + 0.85 * c);
  return pow(clamp(c, 0.0, 1.0), vec3(1.0 / 2.2));
}
)";

constexpr const char* kSurfaceVertex = R"(
uniform mat4 osg_ViewMatrixInverse; uniform mat4 shadow_matrix;
varying vec3 place; varying vec3 normal; varying vec4 extra; varying vec4 shadow_at; varying vec4 colour;
void main() {
  vec4 eye = gl_ModelViewMatrix * gl_Vertex;
  place = (osg_ViewMatrixInverse * eye).xyz;
  normal = mat3(osg_ViewMatrixInverse) * (gl_NormalMatrix * gl_Normal);
  extra = gl_MultiTexCoord0;   // light, weld distance, round, along
  shadow_at = shadow_matrix * vec4(place + normal * 5.0, 1.0);
  colour = gl_Color;
  gl_Position = gl_ProjectionMatrix * eye;
}
)";

// material: x metal, y roughness, z kind (0 plain, 1 bare steel tube, 2 weld bead, 3 clear-coated paint, 4
// the same in the colours of strip_map), w opacity
constexpr const char* kSurfaceFragment = R"(
uniform mat4 osg_ViewMatrixInverse; uniform sampler2DShadow shadow_map; uniform sampler2D strip_map; uniform vec4 material;
varying vec3 place; varying vec3 normal; varying vec4 extra; varying vec4 shadow_at; varying vec4 colour;
float keyLight(vec3 n) {
  vec3 p = shadow_at.xyz;
  if (dot(n, vec3(0.2999, 0.5199, 0.7998)) < 0.0) return 0.0;
  float o = 1.25 / 2048.0, s = 0.0;
  s += shadow2D(shadow_map, p + vec3(-o, -0.4 * o, 0.0)).r; s += shadow2D(shadow_map, p + vec3(0.4 * o, -o, 0.0)).r;
  s += shadow2D(shadow_map, p + vec3(-0.4 * o, o, 0.0)).r;  s += shadow2D(shadow_map, p + vec3(o, 0.4 * o, 0.0)).r;
  return s * 0.25;
}
float noise(float x) { float i = floor(x); float f = fract(x); f = f * f * (3.0 - 2.0 * f);
  return mix(fract(sin(i * 12.9898) * 43758.5453), fract(sin((i + 1.0) * 12.9898) * 43758.5453), f); }
vec3 heat(float mm) {   // tints of bare steel beside a weld, near to far: grey, blue, purple, straw
  vec3 c = vec3(1.0);
  c = mix(c, vec3(1.06, 0.92, 0.66), smoothstep(17.0, 11.0, mm));
  c = mix(c, vec3(0.78, 0.60, 0.66), smoothstep(11.5, 8.0, mm));
  c = mix(c, vec3(0.50, 0.62, 0.88), smoothstep(8.5, 5.5, mm));
  c = mix(c, vec3(0.74, 0.76, 0.80), smoothstep(5.5, 3.0, mm));
  return c;
}
void main() {
  keepOneSide(place);
  vec3 n = normalize(normal);
  vec3 view = normalize(mix(osg_ViewMatrixInverse[3].xyz - place, osg_ViewMatrixInverse[2].xyz, gl_ProjectionMatrix[3][3]));
  if (!gl_FrontFacing) n = -n;
  float metal = material.x, rough = material.y, ao = extra.x;
  vec3 base = colour.rgb;
  if (material.z > 3.5) base = texture2D(strip_map, vec2(extra.w, 0.5)).rgb;
  base = pow(base, vec3(2.2));
  if (material.z > 0.5 && material.z < 1.5) {
    float streak = noise(extra.z * 38.0) * 0.6 + noise(extra.z * 97.0) * 0.4 - 0.5;
    float seen = clamp(1.0 - 60.0 * fwidth(extra.z), 0.0, 1.0);
    base *= heat(extra.y) * (1.0 + 0.10 * streak * seen);
    rough += 0.05 * streak * seen + 0.16 * smoothstep(9.0, 2.0, extra.y);
  } else if (material.z > 1.5 && material.z < 2.5) {
    float phase = extra.z / 2.3, px = fwidth(phase);
    vec3 t = dFdx(place) * dFdx(extra.z) + dFdy(place) * dFdy(extra.z);
    float f = fract(phase) - 0.5;
    float fine = clamp(1.2 - 2.0 * px, 0.0, 1.0);
    n = normalize(n + normalize(t + vec3(1e-6)) * (f * 0.95 * fine));
    ao *= 1.0 - 0.22 * fine * smoothstep(0.28, 0.5, abs(f));
    base *= mix(vec3(1.0), vec3(1.05, 0.93, 0.74), 0.5 * noise(extra.z * 0.16));
  }
  float facing = clamp(dot(n, view), 0.02, 1.0);
  vec3 r = reflect(-view, n);
  float key = keyLight(n);
  vec3 f0 = mix(vec3(0.045), base, metal);
  vec3 fresnel = f0 + (max(vec3(1.0 - rough), f0) - f0) * pow(1.0 - facing, 5.0);
  float hidden = clamp(ao * ao * 1.1 + 0.05, 0.0, 1.0) * mix(0.62, 1.0, key);
  vec3 c = base * (1.0 - metal) * diffuseLight(n, ao, key) + studio(r, rough) * fresnel * hidden;
  float alpha = material.w;
  if (alpha < 0.99) alpha = clamp(alpha + 0.45 * pow(1.0 - facing, 2.5), 0.0, 1.0);
  gl_FragColor = vec4(develop(c), alpha);
}
)";

constexpr const char* kDraftVertex = R"(
uniform mat4 osg_ViewMatrixInverse; uniform vec4 material; uniform float dark;
varying vec3 shade; varying vec3 normal; varying vec3 half_way; varying float ao; varying float along; varying vec3 place;
void main() {
  vec4 eye = gl_ModelViewMatrix * gl_Vertex;
  normal = mat3(osg_ViewMatrixInverse) * (gl_NormalMatrix * gl_Normal);
  place = (osg_ViewMatrixInverse * eye).xyz;
  vec3 view = normalize(mix(osg_ViewMatrixInverse[3].xyz - place, osg_ViewMatrixInverse[2].xyz, gl_ProjectionMatrix[3][3]));
  half_way = normalize(view + vec3(0.2999, 0.5199, 0.7998));
  shade = gl_Color.rgb;
  along = gl_MultiTexCoord0.w;
  ao = gl_MultiTexCoord0.x * mix(1.0, 0.75, dark);
  gl_Position = gl_ProjectionMatrix * eye;
}
)";
constexpr const char* kDraftFragment = R"(
uniform vec4 material; uniform sampler2D strip_map;
varying vec3 shade; varying vec3 normal; varying vec3 half_way; varying float ao; varying float along; varying vec3 place;
void main() {
  keepOneSide(place);
  vec3 n = normalize(normal);
  float key = max(dot(n, vec3(0.2999, 0.5199, 0.7998)), 0.0);
  float light = (0.50 + 0.16 * n.z) * ao + 0.50 * key;
  float shine = pow(max(dot(n, half_way), 0.0), 24.0) * (0.22 + 0.35 * material.x);
  float alpha = material.w < 0.99 ? material.w + 0.1 : 1.0;
  vec3 base = shade;
  if (material.z > 3.5) base = texture2D(strip_map, vec2(along, 0.5)).rgb;
  gl_FragColor = vec4(base * light + vec3(shine), alpha);
}
)";

constexpr const char* kOutlineVertex = R"(
uniform vec2 viewport; uniform float line_px; uniform float outline_px; uniform mat4 osg_ViewMatrixInverse;
varying vec3 place;
void main() {
  place = (osg_ViewMatrixInverse * (gl_ModelViewMatrix * gl_Vertex)).xyz;
  vec4 p = gl_ModelViewProjectionMatrix * gl_Vertex;
  vec2 n = (gl_ModelViewProjectionMatrix * vec4(gl_Normal, 0.0)).xy * viewport;
  float l = length(n);
  if (l > 1e-6) p.xy += n / l * (2.0 * outline_px * line_px) / viewport * p.w;
  gl_Position = p;
}
)";
constexpr const char* kOutlineFragment = R"(
uniform vec4 outline_colour; varying vec3 place;
void main() {
  keepOneSide(place); gl_FragColor = outline_colour; }
)";

constexpr const char* kBackdropText = R"(
uniform float dark;
vec3 backdrop(float y) {
  vec3 light = mix(vec3(0.880, 0.884, 0.884), vec3(0.640, 0.672, 0.705), smoothstep(0.30, 1.05, y));
  vec3 night = mix(vec3(0.165, 0.172, 0.185), vec3(0.085, 0.090, 0.100), smoothstep(0.30, 1.05, y));
  return mix(light, night, dark);
}
)";
constexpr const char* kGroundVertex = R"(
uniform mat4 osg_ViewMatrixInverse; varying vec3 place;
void main() {
  vec4 eye = gl_ModelViewMatrix * gl_Vertex;
  place = (osg_ViewMatrixInverse * eye).xyz;
  gl_Position = gl_ProjectionMatrix * eye;
}
)";
constexpr const char* kGroundFragment = R"(
uniform sampler2D ground_map; uniform vec4 ground_rect; uniform vec2 ground_middle;
uniform vec2 sheet; uniform float line_px;
varying vec3 place;
float lines(vec2 p, float pitch, float px) {
  vec2 q = p / pitch, w = fwidth(q) * px;
  vec2 d = abs(fract(q - 0.5) - 0.5);
  vec2 l = clamp(1.0 - d / max(w, vec2(1e-6)), 0.0, 1.0) * clamp(0.30 / max(w, vec2(1e-6)), 0.0, 1.0);
  return max(l.x, l.y);
}
void main() {
  vec2 uv = (place.xy - ground_rect.xy) / ground_rect.zw;
  vec2 light = vec2(1.0);
  if (uv.x > 0.0 && uv.y > 0.0 && uv.x < 1.0 && uv.y < 1.0) light = texture2D(ground_map, uv).ra;
  float far = length((place.xy - ground_middle) * vec2(1.0, 1.15));
  vec3 behind = backdrop((gl_FragCoord.y + sheet.x) / sheet.y);
  vec3 pale = mix(vec3(0.950, 0.949, 0.943), vec3(0.235, 0.243, 0.258), dark);
  vec3 c = mix(behind, pale, 0.85 * exp(-far * far / (2.0 * 2500.0 * 2500.0)));
#ifdef DRAFT
  float a = lines(place.xy, 1000.0, 1.0 * line_px) * 0.24;
#else
  float a = lines(place.xy, 100.0, 0.8 * line_px) * 0.10 + lines(place.xy, 1000.0, 1.0 * line_px) * 0.24;
#endif
  vec3 ink = mix(vec3(0.36, 0.38, 0.40), vec3(0.62, 0.64, 0.66), dark);
  c = mix(c, ink, clamp(a, 0.0, 1.0) * smoothstep(5200.0, 1400.0, far));
#ifndef DRAFT
  // The car's centre line, as drawings show it: long dash, short dash.
  float w = max(fwidth(place.y), 1e-5) * line_px;
  float beat = mod(place.x, 400.0);
  float dash = step(beat, 260.0) + step(310.0, beat) * step(beat, 350.0);
  c = mix(c, ink, clamp(1.1 - abs(place.y) / w, 0.0, 1.0) * dash * 0.75 * smoothstep(4200.0, 1200.0, far));
#endif
  float shadow = mix(0.40, 1.0, light.x) * mix(0.16, 1.0, light.y);
  vec3 umbra = mix(vec3(0.175, 0.185, 0.205), vec3(0.10, 0.10, 0.11), dark);
  c *= mix(vec3(1.0), mix(umbra, vec3(1.0), shadow), smoothstep(5400.0, 3400.0, far));
  gl_FragColor = vec4(c, 1.0);
}
)";
constexpr const char* kBackdropVertex = R"(
void main() { gl_Position = vec4(gl_Vertex.xy, 0.9999999, 1.0); }
)";
constexpr const char* kBackdropFragment = R"(
uniform vec2 sheet;
void main() { gl_FragColor = vec4(backdrop((gl_FragCoord.y + sheet.x) / sheet.y), 1.0); }
)";

constexpr const char* kShellVertex = R"(
uniform mat4 osg_ViewMatrixInverse; uniform float nearer; varying vec3 place; varying vec3 normal;
void main() {
  vec4 eye = gl_ModelViewMatrix * gl_Vertex;
  place = (osg_ViewMatrixInverse * eye).xyz;
  normal = mat3(osg_ViewMatrixInverse) * (gl_NormalMatrix * gl_Normal);
  gl_Position = gl_ProjectionMatrix * eye;
  vec4 near_by = gl_ProjectionMatrix * (eye + vec4(0.0, 0.0, nearer, 0.0));   // as deep as a point so much nearer
  gl_Position.z = near_by.z / near_by.w * gl_Position.w;
}
)";
// skin: rgb tint, a opacity face on; skin_edge: opacity at a glancing view, shine, back-face share.
// BACK: only back faces are drawn, so the studio, most of the work, is left out of them.
// Where the skin turns away from the eye it has a line, as a pen would give it: as wide on gentle curves as
// on tight ones, for it is measured in pixels.
constexpr const char* kShellFragment = R"(
uniform mat4 osg_ViewMatrixInverse; uniform vec4 skin; uniform vec3 skin_edge; uniform float line_px;
varying vec3 place; varying vec3 normal;
void main() {
  keepOneSide(place);
  vec3 n = normalize(normal);
  vec3 view = normalize(mix(osg_ViewMatrixInverse[3].xyz - place, osg_ViewMatrixInverse[2].xyz, gl_ProjectionMatrix[3][3]));
  float side = dot(n, view);
  float turn_px = abs(side) / max(fwidth(side), 1e-4);
  bool back = side < 0.0;
  if (back) n = -n;
  float glance = pow(1.0 - clamp(abs(side), 0.0, 1.0), 2.4);
  float share = back ? skin_edge.z : 1.0;
  vec3 s = vec3(0.35);
#ifndef BACK
  if (!back) s = studio(reflect(-view, n), 0.06);
#endif
  float form = 0.80 + 0.20 * n.z;
  float a = mix(skin.a, skin_edge.x, glance) * share;
  vec3 shine = s * (0.030 + 0.18 * glance) * skin_edge.y * share;
  float add = clamp(dot(shine, vec3(0.33)), 0.0, 0.6);
  shine /= 1.0 + 1.5 * shine;   // a lamp in the roof must not bleach the bars under it
  vec4 glass = vec4(skin.rgb * form * a + shine, clamp(a + 0.55 * add, 0.0, 0.92));
  // Only on facets that do turn away: where rows of the skin meet in a point their normals tell nothing.
  float facet = abs(dot(normalize(cross(dFdx(place), dFdy(place))), view));
  float line = back ? 0.0 : 0.70 * (1.0 - smoothstep(0.9 * line_px, 2.0 * line_px, turn_px)) * (1.0 - smoothstep(0.35, 0.60, facet));
  vec3 ink = mix(vec3(0.20, 0.25, 0.31), vec3(0.80, 0.84, 0.89), dark);
  gl_FragColor = vec4(ink, 1.0) * line + glass * (1.0 - line);
}
)";

// A strip across the line: normal = direction along it, texture coordinate x = which edge.
constexpr const char* kLineVertex = R"(
uniform vec2 viewport; uniform float line_px; uniform float width_px; uniform float nearer; uniform mat4 osg_ViewMatrixInverse;
varying float across; varying vec3 place;
void main() {
  vec4 eye = gl_ModelViewMatrix * gl_Vertex;
  place = (osg_ViewMatrixInverse * eye).xyz;
  vec4 p = gl_ProjectionMatrix * eye;
  vec4 q = gl_ModelViewProjectionMatrix * vec4(gl_Vertex.xyz + gl_Normal, 1.0);
  vec2 d = (q.xy / q.w - p.xy / p.w) * viewport * sign(q.w * p.w);
  float l = length(d);
  d = l > 1e-9 ? d / l : vec2(1.0, 0.0);
  across = gl_MultiTexCoord0.x;
  p.xy += vec2(-d.y, d.x) * across * (width_px * line_px) / viewport * p.w;
  vec4 near_by = gl_ProjectionMatrix * (eye + vec4(0.0, 0.0, nearer, 0.0));
  p.z = near_by.z / near_by.w * p.w;
  gl_Position = p;
}
)";
constexpr const char* kLineFragment = R"(
uniform vec4 line_colour; varying float across; varying vec3 place;
void main() {
  keepOneSide(place); gl_FragColor = vec4(line_colour.rgb, line_colour.a * smoothstep(1.0, 0.35, abs(across))); }
)";

constexpr const char* kDepthVertex = R"(
varying vec3 place;
void main() { place = gl_Vertex.xyz; gl_Position = gl_ModelViewProjectionMatrix * gl_Vertex; }
)";
constexpr const char* kDepthFragment = R"(
varying vec3 place;
void main() { keepOneSide(place); gl_FragColor = vec4(1.0); }
)";

constexpr const char* kFlatVertex = R"(
varying vec3 normal; varying vec4 colour;
void main() { normal = gl_NormalMatrix * gl_Normal; colour = gl_Color; gl_Position = gl_ModelViewProjectionMatrix * gl_Vertex; }
)";
constexpr const char* kFlatFragment = R"(
varying vec3 normal; varying vec4 colour;
void main() {
  float form = 0.82 + 0.18 * abs(normalize(normal + vec3(0.0, 0.0, 1e-5)).z);
  gl_FragColor = vec4(colour.rgb * form, colour.a);
}
)";

// Of one tone: a cut face is paper, not steel.
constexpr const char* kCutFaceFragment = R"(
varying vec4 colour;
void main() { gl_FragColor = vec4(mix(colour.rgb, vec3(1.0), 0.12), 1.0); }
)";

osg::ref_ptr<osg::Program> program(const char* name, const std::string& vertex, const std::string& fragment) {
    osg::ref_ptr<osg::Program> p = new osg::Program;
    p->setName(name);
    p->addShader(new osg::Shader(osg::Shader::VERTEX, kVersion + vertex));
    p->addShader(new osg::Shader(osg::Shader::FRAGMENT, kVersion + fragment));
    return p;
}

}  // namespace

Programs makePrograms() {
    const std::string studio = kStudio, backdrop = kBackdropText, section = kSectionText;
    Programs p;
    p.surface = program("surface", kSurfaceVertex, section + studio + kSurfaceFragment);
    p.draft = program("draft", kDraftVertex, section + kDraftFragment);
    p.outline = program("outline", kOutlineVertex, section + kOutlineFragment);
    p.ground = program("ground", kGroundVertex, backdrop + kGroundFragment);
    p.draft_ground = program("draft ground", kGroundVertex, "#define DRAFT\n" + backdrop + kGroundFragment);
    p.backdrop = program("backdrop", kBackdropVertex, backdrop + kBackdropFragment);
    p.shell = program("shell", kShellVertex, section + studio + kShellFragment);
    p.line = program("line", kLineVertex, section + kLineFragment);
    p.depth = program("depth", kDepthVertex, section + kDepthFragment);
    p.flat = program("flat", kFlatVertex, kFlatFragment);
    p.cut_face = program("cut face", kFlatVertex, kCutFaceFragment);
    return p;
}

}  // namespace hoopwright
