// Shapes kept on disk beside the layers, for the program that made them.
#pragma once

#include "quantity/content.h"
#include "quantity/shelf.h"
#include "results/light/layer_cache.h"

namespace rushlight {

class KeptShelf : public Shelf {
public:
    explicit KeptShelf(LayerCache cache) : cache_(std::move(cache)) {}
    std::optional<std::string> find(const std::string& key) override { return cache_.find(of_this_program(key)); }
    void keep(const std::string& key, std::string_view bytes) override {
        if (bytes.size() <= cache_.largest()) cache_.keep(of_this_program(key), bytes);
    }

private:
    static std::string of_this_program(const std::string& key) {
        return (Content() << "shape" << program_fingerprint() << key).fingerprint();
    }
    LayerCache cache_;
};

}  // namespace rushlight
