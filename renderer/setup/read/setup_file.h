// A set-up file (TOML) read into set-ups. Every wrong word is answered by file, line, column, what was
// expected and the nearest valid word; nothing is guessed silently.
#pragma once

#include "setup/plain/setup.h"
#include "setup/read/kit.h"
#include "setup/text/patience.h"

#include <memory>
#include <optional>
#include <string>
#include <utility>
#include <vector>

namespace rushlight {

class SetupFile {
public:
    /// Reads and checks the whole file, and what it names: every set-up with every option. Throws InputError; and
    /// Stopped where `patience` asks for it, which is not asked any more once the file is read.
    static SetupFile read(const std::string& path, const Patience& patience = {});
    /// The same from text, for tests; `path` is used in messages and to find models beside it.
    static SetupFile from_text(const std::string& text, const std::string& path, const Patience& patience = {});

    ~SetupFile();
    SetupFile(SetupFile&&) noexcept;
    SetupFile& operator=(SetupFile&&) noexcept;

    const std::string& title() const;
    std::vector<std::string> setup_names() const;  // in the file's order; at least one ("as found")
    /// Options offered for this set-up, "as found" first.
    std::vector<std::string> option_names(const std::string& setup) const;

    /// The set-up with the option's overrides. Unknown names throw InputError with the nearest one.
    Setup setup(const std::string& name, const std::string& option) const;
    /// First set-up, as found.
    Setup setup() const;

    /// When one may work there, as the file says: from and to in hours. Nothing where it does not say.
    std::optional<std::pair<double, double>> working_hours() const;

    /// The kit that things may be like: the catalogue and the kit files that the file names.
    const Kit& kit() const;

    /// Sentences about what was guessed or looks odd, each with its place in the file.
    const std::vector<std::string>& remarks() const;

private:
    struct Contents;
    explicit SetupFile(std::unique_ptr<Contents> contents);
    std::unique_ptr<Contents> contents_;
};

}  // namespace rushlight
