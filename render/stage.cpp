#include "render/stage.h"

#include <map>
#include <osg/CullFace>
#include <osg/Depth>
#include <osg/Geode>
#include <osg/Geometry>
#include <osg/PolygonOffset>
#include <osgUtil/CullVisitor>

#include "render/graph.h"
#include "render/scene.h"

namespace hoopwright {
namespace {

constexpr int kShadowSize_px = 2048;
constexpr int kGroundUnit = 0, kShadowUnit = 1;

struct NoBounds : osg::Drawable::ComputeBoundingBoxCallback {
    osg::BoundingBox computeBound(const osg::Drawable&) const override { return {}; }
};

osg::ref_ptr<osg::Geometry> quad(double x0, double y0, double x1, double y1) {
    osg::ref_ptr<osg::Geometry> geometry = new osg::Geometry;
    osg::ref_ptr<osg::Vec3Array> at = new osg::Vec3Array;
    for (const auto& [x, y] : {std::pair{x0, y0}, {x1, y0}, {x0, y1}, {x1, y1}})
        at->push_back({static_cast<float>(x), static_cast<float>(y), 0});
    geometry->setVertexArray(at);
    geometry->addPrimitiveSet(new osg::DrawArrays(GL_TRIANGLE_STRIP, 0, 4));
    geometry->setUseDisplayList(false);
    geometry->setUseVertexBufferObjects(true);
    return geometry;
}

osg::Vec3 key() {
    return toOsg(kKeyLight);
}

}  // namespace

/// Each OpenGL context has a shadow map of its own, and each must be drawn once after a change.
class Stage::OnceEachChange : public osg::NodeCallback {
public:
    void operator()(osg::Node* node, osg::NodeVisitor* visitor) override {
        auto* cull = visitor->asCullVisitor();
        if (!cull || !wanted_) return;
        int& drawn = drawn_[cull->getState() ? cull->getState()->getContextID() : 0];
        if (drawn == change_) return;
        drawn = change_;
        traverse(node, visitor);
    }
    void changed() { ++change_; }
    void forget() { drawn_.clear(); }
    void want(bool wanted) { wanted_ = wanted; }

private:
    std::map<unsigned, int> drawn_;
    int change_ = 1;
    bool wanted_ = true;
};

Stage::Stage() : programs_(makePrograms()), root_(new osg::Group), lit_(new osg::Group) {
    root_->setName("hoopwright");
    lit_->setName("lit");
    auto* state = root_->getOrCreateStateSet();
    const auto add = [state](osg::Uniform* uniform) {
        state->addUniform(uniform);
        return uniform;
    };
    viewport_ = add(new osg::Uniform("viewport", osg::Vec2(1280, 800)));
    sheet_ = add(new osg::Uniform("sheet", osg::Vec2(0, 800)));
    line_px_ = add(new osg::Uniform("line_px", 1.0f));
    dark_ = add(new osg::Uniform("dark", 0.0f));
    shadow_matrix_ = add(new osg::Uniform("shadow_matrix", osg::Matrixf()));
    ground_rect_ = add(new osg::Uniform("ground_rect", osg::Vec4(0, 0, 1, 1)));
    ground_middle_ = add(new osg::Uniform("ground_middle", osg::Vec2(0, 0)));
    section_ = add(new osg::Uniform("section", osg::Vec4(0, 0, 0, 0)));
    add(new osg::Uniform("ground_map", kGroundUnit));
    add(new osg::Uniform("shadow_map", kShadowUnit));
    add(new osg::Uniform("strip_map", kStripUnit));
    state->setMode(GL_LIGHTING, osg::StateAttribute::OFF | osg::StateAttribute::PROTECTED);
    makeShadowMap();
    makeGround();
    auto* lit_state = lit_->getOrCreateStateSet();
    lit_state->setAttributeAndModes(programs_.surface);
    lit_state->setMode(GL_CULL_FACE, osg::StateAttribute::ON);
    lit_state->setTextureAttribute(kShadowUnit, shadow_map_);
    lit_state->addUniform(new osg::Uniform("material", osg::Vec4(0, 0.3f, 0, 1)));
    root_->addChild(lit_);
}

Stage::~Stage() = default;

void Stage::makeShadowMap() {
    shadow_map_ = new osg::Texture2D;
    shadow_map_->setTextureSize(kShadowSize_px, kShadowSize_px);
    shadow_map_->setInternalFormat(GL_DEPTH_COMPONENT24);
    shadow_map_->setSourceFormat(GL_DEPTH_COMPONENT);
    shadow_map_->setSourceType(GL_UNSIGNED_INT);
    for (const auto filter : {osg::Texture::MIN_FILTER, osg::Texture::MAG_FILTER})
        shadow_map_->setFilter(filter, osg::Texture::LINEAR);
    for (const auto wrap : {osg::Texture::WRAP_S, osg::Texture::WRAP_T})
        shadow_map_->setWrap(wrap, osg::Texture::CLAMP_TO_BORDER);
    shadow_map_->setBorderColor(osg::Vec4d(1, 1, 1, 1));
    shadow_map_->setShadowComparison(true);
    shadow_map_->setShadowCompareFunc(osg::Texture::LEQUAL);
    shadow_map_->setShadowTextureMode(osg::Texture::LUMINANCE);

    lamp_ = new osg::Camera;
    lamp_->setReferenceFrame(osg::Transform::ABSOLUTE_RF);
    lamp_->setRenderOrder(osg::Camera::PRE_RENDER);
    lamp_->setRenderTargetImplementation(osg::Camera::FRAME_BUFFER_OBJECT);
    lamp_->setViewport(0, 0, kShadowSize_px, kShadowSize_px);
    lamp_->setComputeNearFarMode(osg::CullSettings::DO_NOT_COMPUTE_NEAR_FAR);
    lamp_->setClearMask(GL_DEPTH_BUFFER_BIT);
    lamp_->attach(osg::Camera::DEPTH_BUFFER, shadow_map_);
    lamp_->setImplicitBufferAttachmentMask(0, 0);  // depth is all that is looked at
    lamp_->setCullMask(kTubes | kPlates | kDriver);
    lamp_->addChild(lit_);
    auto* state = lamp_->getOrCreateStateSet();
    const auto always = osg::StateAttribute::ON | osg::StateAttribute::OVERRIDE;
    state->setAttributeAndModes(programs_.depth, always);
    state->setAttributeAndModes(new osg::PolygonOffset(1.5f, 4.0f), always);

    once_ = new OnceEachChange;
    shadow_gate_ = new osg::Group;
    shadow_gate_->setName("shadow gate");
    shadow_gate_->setCullCallback(once_);
    shadow_gate_->addChild(lamp_);
    root_->addChild(shadow_gate_);
}

void Stage::makeGround() {
    ground_map_ = new osg::Texture2D;
    ground_map_->setResizeNonPowerOfTwoHint(false);
    for (const auto filter : {osg::Texture::MIN_FILTER, osg::Texture::MAG_FILTER})
        ground_map_->setFilter(filter, osg::Texture::LINEAR);
    for (const auto wrap : {osg::Texture::WRAP_S, osg::Texture::WRAP_T})
        ground_map_->setWrap(wrap, osg::Texture::CLAMP_TO_EDGE);
    ground_ = new osg::Geode;
    ground_->setName("ground");
    ground_->setNodeMask(kGround);
    auto* state = ground_->getOrCreateStateSet();
    state->setAttributeAndModes(programs_.ground);
    state->setTextureAttribute(kGroundUnit, ground_map_);
    state->setRenderBinDetails(1, "RenderBin");  // after what stands on it: fewer pixels to work out
    state->setMode(GL_CULL_FACE, osg::StateAttribute::ON);  // from below the ground is not in the way
    root_->addChild(ground_);
    setGround(0, Vec3::Zero());
    setGroundShadow({});

    osg::ref_ptr<osg::Geometry> whole = quad(-1, -1, 1, 1);
    whole->setComputeBoundingBoxCallback(new NoBounds);  // else it would ruin the near and far planes
    whole->setCullingActive(false);
    backdrop_ = geodeOf(whole);
    backdrop_->setName("backdrop");
    backdrop_->setNodeMask(kBackdrop);
    backdrop_->setCullingActive(false);
    auto* behind = backdrop_->getOrCreateStateSet();
    behind->setAttributeAndModes(programs_.backdrop);
    behind->setAttributeAndModes(new osg::Depth(osg::Depth::LEQUAL, 0, 1, false));
    behind->setRenderBinDetails(2, "RenderBin");  // only where nothing stands before it
    root_->addChild(backdrop_);
}

void Stage::setViewport(int width_px, int height_px, double line_px) {
    viewport_->set(osg::Vec2(static_cast<float>(width_px), static_cast<float>(height_px)));
    line_px_->set(static_cast<float>(line_px));
    setPart(0, height_px);
}

void Stage::setPart(int below_px, int whole_px) {
    sheet_->set(osg::Vec2(static_cast<float>(below_px), static_cast<float>(whole_px)));
}

void Stage::setDark(bool dark) {
    dark_->set(dark ? 1.0f : 0.0f);
}

void Stage::setDraft(bool draft) {
    lit_->getOrCreateStateSet()->setAttributeAndModes(draft ? programs_.draft : programs_.surface);
    ground_->getOrCreateStateSet()->setAttributeAndModes(draft ? programs_.draft_ground : programs_.ground);
    once_->want(!draft);
}

void Stage::showGround(bool show) {
    ground_->setNodeMask(show ? kGround : 0u);
}

void Stage::setGround(double ground_z_mm, const Vec3& middle) {
    constexpr double kHalf_mm = 14000;
    osg::ref_ptr<osg::Geometry> plane =
        quad(middle.x() - kHalf_mm, middle.y() - kHalf_mm, middle.x() + kHalf_mm, middle.y() + kHalf_mm);
    auto& at = *static_cast<osg::Vec3Array*>(plane->getVertexArray());
    for (osg::Vec3& v : at) v.z() = static_cast<float>(ground_z_mm);
    // The ground reaches to the horizon and must not decide the near and far planes by itself.
    ground_->removeDrawables(0, ground_->getNumDrawables());
    ground_->addDrawable(plane);
    ground_middle_->set(osg::Vec2(static_cast<float>(middle.x()), static_cast<float>(middle.y())));
}

void Stage::setGroundShadow(const GroundShadow& shadow) {
    osg::ref_ptr<osg::Image> image = new osg::Image;
    const bool empty = shadow.pixels.empty();
    image->allocateImage(empty ? 1 : shadow.width, empty ? 1 : shadow.height, 1, GL_LUMINANCE_ALPHA,
                         GL_UNSIGNED_BYTE);
    if (empty)
        std::fill_n(image->data(), 2, static_cast<unsigned char>(255));
    else
        std::copy(shadow.pixels.begin(), shadow.pixels.end(), image->data());
    ground_map_->setImage(image);
    ground_rect_->set(
        empty ? osg::Vec4(0, 0, 1, 1)
              : osg::Vec4(osg::Vec4d(shadow.x_mm, shadow.y_mm, shadow.length_mm, shadow.breadth_mm)));
}

void Stage::setLitBox(const Box& box) {
    if (box.isEmpty()) return;
    const osg::Vec3d middle = toOsgDouble(box.center());
    const double reach = 0.5 * box.diagonal().norm() + 20;
    const osg::Matrixd view =
        osg::Matrixd::lookAt(middle + osg::Vec3d(key()) * (reach + 1000), middle, osg::Vec3d(1, 0, 0));
    Box seen;  // the box as the lamp sees it, so that no texel is wasted
    for (int i = 0; i < 8; ++i) {
        const osg::Vec3d p = toOsgDouble(box.corner(static_cast<Box::CornerType>(i))) * view;
        seen.extend(Vec3(p.x(), p.y(), p.z()));
    }
    const osg::Matrixd projection =
        osg::Matrixd::ortho(seen.min().x() - 20, seen.max().x() + 20, seen.min().y() - 20,
                            seen.max().y() + 20, -seen.max().z() - 20, -seen.min().z() + 20);
    lamp_->setViewMatrix(view);
    lamp_->setProjectionMatrix(projection);
    const osg::Matrixd bias = osg::Matrixd::translate(1, 1, 1) * osg::Matrixd::scale(0.5, 0.5, 0.5);
    shadow_matrix_->set(osg::Matrixf(view * projection * bias));
}

void Stage::setSection(const std::optional<SectionCut>& cut) {
    if (cut != cut_) once_->changed();  // what is cut away throws no shadow
    cut_ = cut;
    auto* state = root_->getOrCreateStateSet();
    if (!cut) return state->removeDefine(kCutDefine);
    const Vec3 out = cut->outward();
    const double at = cut->keep_high ? -cut->at_mm : cut->at_mm;
    section_->set(osg::Vec4(toOsg(out), static_cast<float>(-at)));
    state->setDefine(kCutDefine);
}

void Stage::redrawShadows() {
    once_->changed();
}

void Stage::contextRecreated() {
    once_->forget();
}

}  // namespace hoopwright
