// The camera as a thin lens: which rays belong to which place in the picture.
#pragma once

#include "quantity/units.h"
#include "scene/rays/ray_scene.h"
#include "setup/plain/rig.h"

#include <cmath>

namespace rushlight {

class CameraView {
public:
    CameraView(const Camera& camera, int width, int height)
        : at_(camera.at), width_(static_cast<float>(width)), height_(static_cast<float>(height)) {
        forward_ = (camera.look_at - camera.at).normalized();
        const Vec3 level = forward_.cross(Vec3(0, 0, 1));
        right_ = level.length2() > 1e-8F ? level.normalized() : Vec3(1, 0, 0);
        up_ = right_.cross(forward_);
        const auto roll = static_cast<float>(radians(Degree{camera.roll}));
        const Vec3 r = right_ * std::cos(roll) + up_ * std::sin(roll);
        up_ = up_ * std::cos(roll) - right_ * std::sin(roll);
        right_ = r;
        const ThinLens lens = camera.thin_lens();
        half_width_ = static_cast<float>(camera.sensor_width / lens.image_distance() / 2);
        half_height_ = static_cast<float>(camera.sensor_height / lens.image_distance() / 2);
        if (lens.f_number > 0) {
            constexpr double per_metre = 1000;
            opening_radius_ = static_cast<float>(lens.opening() / per_metre / 2);
            focus_ = static_cast<float>(lens.focus);
        }
    }

    /// Where things fall in the picture, when none is drawn: as fine as a picture that people look at.
    static CameraView for_asking(const Camera& camera) { return {camera, 1600, 900}; }

    /// Through the picture at (x, y) in pixels from its upper left corner and the middle of the lens.
    Ray ray(float x, float y) const { return {at_, through(x, y).normalized()}; }
    /// The same through another place of the lens; u, v in 0..1 are even over its round opening. Where all is
    /// sharp there is one place only.
    Ray ray(float x, float y, float u, float v) const {
        if (opening_radius_ <= 0) return ray(x, y);
        const float turn = 2.0F * pi_f * v;
        const float r = opening_radius_ * std::sqrt(u);
        const Vec3 off = right_ * (r * std::cos(turn)) + up_ * (r * std::sin(turn));
        // through() reaches one metre along the axis.
        return {at_ + off, (through(x, y) * focus_ - off).normalized()};
    }
    bool opens() const { return opening_radius_ > 0; }

    /// Where a point of the place falls in the picture, in pixels; false behind the camera.
    bool project(const Vec3& p, float& x, float& y) const {
        const Vec3 d = p - at_;
        const float depth = d.dot(forward_);
        if (depth <= 1e-4F) return false;
        x = (d.dot(right_) / depth / half_width_ + 1.0F) * 0.5F * width_;
        y = (1.0F - d.dot(up_) / depth / half_height_) * 0.5F * height_;
        return true;
    }
    bool in_picture(float x, float y) const { return x >= 0 && y >= 0 && x < width_ && y < height_; }
    const Vec3& at() const { return at_; }
    const Vec3& right() const { return right_; }
    const Vec3& up() const { return up_; }
    const Vec3& forward() const { return forward_; }
    /// Pixels of an angle's tangent at the middle of the picture.
    float pixels_per_tangent() const { return width_ / (2 * half_width_); }

private:
    Vec3 through(float x, float y) const {
        return forward_ + right_ * ((2.0F * x / width_ - 1.0F) * half_width_) +
               up_ * ((1.0F - 2.0F * y / height_) * half_height_);
    }

    Vec3 at_, forward_, right_, up_;
    float width_, height_, half_width_ = 1, half_height_ = 1;
    float opening_radius_ = 0, focus_ = 0;
};

}  // namespace rushlight
