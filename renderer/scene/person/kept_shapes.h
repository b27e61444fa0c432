// Meshes and hair of a person, made once and kept from run to run.
#pragma once

#include "quantity/content.h"
#include "scene/rays/fibres.h"
#include "scene/rays/mesh.h"

#include <functional>

namespace rushlight {

/// `of` tells what it is made of. Meshes that are kept have no finish of their own yet.
Mesh kept_mesh(const Content& of, const std::function<Mesh()>& make);
Fibres kept_fibres(const Content& of, const std::function<Fibres()>& make);

}  // namespace rushlight
