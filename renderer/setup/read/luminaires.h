// Photometric files that the set-up file names, each read once however many lamps and set-ups hold it.
#pragma once

#include "setup/keys/layered_table.h"
#include "setup/luminaire/luminaire.h"
#include "setup/plain/rig.h"

#include <map>
#include <memory>
#include <string>

namespace rushlight {

class Luminaires {
public:
    /// The file that the lamp's key `luminaire` names, found from where the file lies that says so: the set-up file, or
    /// the kit file that has the item the lamp is like.
    std::shared_ptr<const Luminaire> read(const LayeredTable& lamp);

private:
    std::map<std::string, std::shared_ptr<const Luminaire>> known_;  // by path
    std::size_t bytes_ = 0;
};

/// Gives the lamp its luminaire's light and its opening, unless `shape` and `size` say otherwise.
void wear_luminaire(Lamp& lamp, const LayeredTable& table, std::shared_ptr<const Luminaire> luminaire);

/// Lumen of a lamp with a luminaire when nothing else is said: the file's, tilted as the lamp is aimed.
double luminaire_lumens(const Lamp& lamp);

/// "8,147 lm, peak 9,020 cd, ..." for `rushlight check`.
std::string described(const Lamp& lamp);

}  // namespace rushlight
