// The style and the script of a brief's page: page.css and page.js, as they are written there.
#pragma once

#include <string_view>

namespace rushlight {

std::string_view brief_page_style();
std::string_view brief_page_script();

}  // namespace rushlight
