// A brief as one page for a browser: everything in it, nothing fetched, faders that work without a network.
#pragma once

#include "pictures/brief/document.h"

#include <string>

namespace rushlight {

struct BriefPage {
    std::string html;
    int fader_width = 0;          // pixels across of the layers that faders mix; 0: none
    std::size_t layer_bytes = 0;  // that they take of the page
};
BriefPage brief_page(const Brief& brief, const BriefLook& look);

}  // namespace rushlight
