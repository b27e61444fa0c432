// A brief on paper: the pages of a PDF.
#pragma once

#include "pictures/brief/document.h"
#include "pictures/brief/page_flow.h"

#include <string>

namespace rushlight {

struct BriefPages {
    std::string pdf;
    int pages = 0;
};
BriefPages brief_pages(const Brief& brief, const BriefLook& look, const PageSize& size);

}  // namespace rushlight
