// rushlight-mpi: the same program on many machines, started by mpirun. MPI is seen by this file alone.
#include "command/interrupt.h"
#include "command/run.h"

#include <mpi.h>

#include <fcntl.h>
#include <unistd.h>

#include <algorithm>
#include <cstdio>
#include <optional>

namespace rushlight::command {

namespace {

class MpiTeam : public Team {
public:
    MpiTeam() {
        int number = 0, size = 1, length = 0;
        char own[MPI_MAX_PROCESSOR_NAME] = {};
        MPI_Comm_rank(MPI_COMM_WORLD, &number);
        MPI_Comm_size(MPI_COMM_WORLD, &size);
        MPI_Get_processor_name(own, &length);
        number_ = static_cast<std::size_t>(number);
        size_ = static_cast<std::size_t>(size);
        std::vector<char> all(size_ * sizeof own);
        MPI_Allgather(own, sizeof own, MPI_CHAR, all.data(), sizeof own, MPI_CHAR, MPI_COMM_WORLD);
        for (std::size_t i = 0; i < size_; ++i) hosts_.emplace_back(&all[i * sizeof own]);
    }

    std::size_t number() const override { return number_; }
    std::size_t size() const override { return size_; }
    std::string name_of(std::size_t number) const override {
        return "machine " + std::to_string(number + 1) + " of " + std::to_string(size_) + " (" + hosts_[number] + ")";
    }
    bool stopped() const override { return stopped_; }

    std::vector<std::string> exchange(std::string_view mine) override {
        if (ended_) throw TeamError(ended_->line, TeamError::Cause::broken_off);
        std::vector<Head> heads = heads_with({Kind::says, 0, false, mine.size(), {}}, mine);
        std::vector<std::string> all = bodies(heads, mine);
        for (std::size_t i = 0; i < size_; ++i)
            if (heads[i].kind == Kind::ended) {
                ended_ = ending(heads, all);
                throw TeamError(ended_->line, TeamError::Cause::broken_off);
            }
        return all;
    }

    Ending end(const Ending& mine) override {
        if (ended_) return *ended_;
        std::vector<Head> heads = heads_with({Kind::ended, mine.status, false, mine.line.size(), {}}, mine.line);
        ended_ = ending(heads, bodies(heads, mine.line));
        return *ended_;
    }

private:
    enum class Kind : std::int32_t { says, ended };
    /// Goes before every message. A short message goes inside it.
    struct Head {
        Kind kind;
        std::int32_t status;
        bool stop;
        std::uint64_t size;
        char body[40];
    };

    std::vector<Head> heads_with(Head own, std::string_view body) {
        own.stop = interrupt_flag().load();
        if (body.size() <= sizeof own.body) std::copy(body.begin(), body.end(), own.body);
        std::vector<Head> heads(size_);
        MPI_Allgather(&own, sizeof own, MPI_BYTE, heads.data(), sizeof own, MPI_BYTE, MPI_COMM_WORLD);
        for (const Head& h : heads) stopped_ = stopped_ || h.stop;
        return heads;
    }

    std::vector<std::string> bodies(const std::vector<Head>& heads, std::string_view mine) const {
        std::vector<std::string> all(size_);
        std::uint64_t longest = 0;
        for (const Head& h : heads) longest = std::max(longest, h.size);
        if (longest <= sizeof Head::body) {
            for (std::size_t i = 0; i < size_; ++i) all[i].assign(heads[i].body, heads[i].size);
            return all;
        }
        // The length of a message is an int, so a long one goes in slices.
        const std::uint64_t slice = (1U << 30U) / size_;
        std::vector<int> counts(size_), places(size_);
        std::vector<char> got;
        for (std::uint64_t from = 0; from < longest; from += slice) {
            int sum = 0;
            for (std::size_t i = 0; i < size_; ++i) {
                const std::uint64_t left = heads[i].size > from ? heads[i].size - from : 0;
                counts[i] = static_cast<int>(std::min(slice, left));
                places[i] = sum;
                sum += counts[i];
            }
            got.resize(static_cast<std::size_t>(sum));
            const char* own = counts[number_] > 0 ? mine.data() + from : mine.data();
            MPI_Allgatherv(own, counts[number_], MPI_BYTE, got.data(), counts.data(), places.data(), MPI_BYTE,
                           MPI_COMM_WORLD);
            for (std::size_t i = 0; i < size_; ++i)
                all[i].append(got.data() + places[i], static_cast<std::size_t>(counts[i]));
        }
        return all;
    }

    /// The ending of the first machine that failed, if one did.
    Ending ending(const std::vector<Head>& heads, const std::vector<std::string>& lines) const {
        for (std::size_t i = 0; i < size_; ++i) {
            if (heads[i].kind != Kind::ended || heads[i].status == 0) continue;
            if (i == 0 || lines[i].empty()) return {heads[i].status, lines[i]};
            constexpr std::string_view program = "rushlight: ";
            const bool named = lines[i].compare(0, program.size(), program) == 0;
            return {heads[i].status, "rushlight: " + name_of(i) + ": " + lines[i].substr(named ? program.size() : 0)};
        }
        for (std::size_t i = 0; i < size_; ++i)
            if (heads[i].kind != Kind::ended)
                return {failed,
                        "rushlight: " + name_of(i) + " had more to do than the others: please tell the developers"};
        return {};
    }

    std::size_t number_ = 0, size_ = 1;
    std::vector<std::string> hosts_;
    bool stopped_ = false;
    std::optional<Ending> ended_;
};

/// Only the first machine is heard. The others would say the same.
void be_silent() {
    const int nowhere = ::open("/dev/null", O_WRONLY | O_CLOEXEC);
    if (nowhere < 0) return;
    for (const int stream : {STDOUT_FILENO, STDERR_FILENO}) ::dup2(nowhere, stream);
    ::close(nowhere);
}

}  // namespace

}  // namespace rushlight::command

int main(int argc, char** argv) {
    int given = 0;
    // Only the thread that runs the commands talks to other machines.
    MPI_Init_thread(&argc, &argv, MPI_THREAD_FUNNELED, &given);
    int status = 0;
    {
        rushlight::command::MpiTeam team;
        if (!team.first()) rushlight::command::be_silent();
        status = rushlight::command::run(argc, argv, &team);
        if (!team.first()) status = 0;
    }
    MPI_Finalize();
    return status;
}
