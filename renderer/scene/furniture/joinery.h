// What furniture is put together from, in the frame of its box: x along its width and y along its depth from the
// middle, its front at the least y, z up from its foot. Metres.
#pragma once

#include "scene/rays/mesh.h"
#include "setup/plain/place.h"

#include <string>
#include <vector>

namespace rushlight {

/// Nothing that is put in leaves the box: what would is cut off there, and what has no thickness left is not made.
class Joinery {
public:
    explicit Joinery(const Box& box);

    const float width, depth, height;
    const Finish& own;  // the finish that the file gives

    /// A board: all between two corners.
    void block(const Vec3& least, const Vec3& most) { block(own, least, most); }
    void block(const Finish& finish, const Vec3& least, const Vec3& most);
    /// The same with round edges.
    void cushion(const Finish& finish, const Vec3& least, const Vec3& most, float radius);
    /// A round post, upright, or lying along x.
    void post(const Finish& finish, const Vec3& foot, float length, float radius, float radius_at_end,
              bool lying = false);
    /// Four corners in turn, with nothing behind them.
    void leaf(const Finish& finish, const Vec3& a, const Vec3& b, const Vec3& c, const Vec3& d);
    /// Four legs under a top whose underside is at `high`, set in by `inset`.
    void legs(float high, float thick, float inset);

    std::vector<Mesh> meshes() && { return std::move(meshes_); }

private:
    Mesh& mesh(const Finish& finish, bool rounded);
    Vec3 kept_in(const Vec3& p) const;
    Vec3 placed(const Vec3& p) const;
    Vec3 turned(const Vec3& v) const;

    Vec3 foot_;
    float cosine_, sine_;
    PatternLie lie_;
    std::string name_;
    std::vector<Mesh> meshes_;
};

void make_table(Joinery& j);
void make_stool(Joinery& j);
void make_chair(Joinery& j);
void make_sofa(Joinery& j);
void make_bed(Joinery& j);
void make_shelf(Joinery& j);
void make_drawers(Joinery& j);
void make_counter(Joinery& j);
void make_lamp_foot(Joinery& j);
void make_tree(Joinery& j);
void make_car(Joinery& j);
void make_house_front(Joinery& j);

}  // namespace rushlight
