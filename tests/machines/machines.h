// rushlight-mpi on several machines that are all this one.
#pragma once

#include "command/program.h"

namespace rushlight::testing_command {

/// Whoever runs tests in a container is root, which mpirun asks about; more machines than cores are fine here.
inline std::vector<std::string> surroundings(const std::string& cache) {
    return {"XDG_CACHE_HOME=" + cache, "OMPI_ALLOW_RUN_AS_ROOT=1", "OMPI_ALLOW_RUN_AS_ROOT_CONFIRM=1",
            "OMPI_MCA_rmaps_base_oversubscribe=1", "OMPI_MCA_hwloc_base_binding_policy=none",
            "OMPI_MCA_btl_vader_single_copy_mechanism=none",
            // Under a sanitizer: MPI itself does not give back all its memory.
            "ASAN_OPTIONS=detect_leaks=0"};
}

inline Answer on_machines(int count, const Scratch& here, const std::vector<std::string>& words,
                          const std::string& cache = "", Signal signal = {}) {
    std::vector<std::string> all{RUSHLIGHT_MPIRUN, "-n", std::to_string(count), RUSHLIGHT_BUILD "/rushlight-mpi"};
    all.insert(all.end(), words.begin(), words.end());
    return run(here, all, surroundings(cache), signal);
}

}  // namespace rushlight::testing_command
