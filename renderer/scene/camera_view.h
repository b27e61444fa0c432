// The camera as a pinhole: which ray belongs to which place in the picture.
#pragma once

#include "scene/ray_scene.h"
#include "setup/rig.h"

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
        const auto roll = static_cast<float>(camera.roll * 3.14159265358979 / 180.0);
        const Vec3 r = right_ * std::cos(roll) + up_ * std::sin(roll);
        up_ = up_ * std::cos(roll) - right_ * std::sin(roll);
        right_ = r;
        half_width_ = static_cast<float>(camera.sensor_width / camera.lens / 2);
        half_height_ = static_cast<float>(camera.sensor_height / camera.lens / 2);
    }

    /// Through the picture at (x, y) in pixels from its upper left corner.
    Ray ray(float x, float y) const {
        const Vec3 d = forward_ + right_ * ((2.0F * x / width_ - 1.0F) * half_width_) +
                       up_ * ((1.0F - 2.0F * y / height_) * half_height_);
        return {at_, d.normalized()};
    }
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

private:
    Vec3 at_, forward_, right_, up_;
    float width_, height_, half_width_ = 1, half_height_ = 1;
};

}  // namespace rushlight
