// A team whose machines are threads of this program.
#pragma once

#include "paths/work/team.h"

#include <condition_variable>
#include <functional>
#include <mutex>
#include <thread>

namespace rushlight::small {

class TeamOfThreads {
public:
    explicit TeamOfThreads(std::size_t size) : said_(size) {}

    /// Runs `work` as every machine of the team at once.
    void run(const std::function<void(Team&)>& work) {
        std::vector<std::thread> threads;
        for (std::size_t i = 0; i < said_.size(); ++i)
            threads.emplace_back([&, i] {
                One one(*this, i);
                work(one);
            });
        for (std::thread& t : threads) t.join();
    }
    /// Somebody asks machine `number` to stop.
    void ask_to_stop() {
        const std::scoped_lock lock(mutex_);
        asked_ = true;
    }
    std::size_t exchanges() const { return round_; }
    std::size_t bytes() const { return bytes_; }

private:
    class One : public Team {
    public:
        One(TeamOfThreads& all, std::size_t number) : all_(all), number_(number) {}
        std::size_t number() const override { return number_; }
        std::size_t size() const override { return all_.said_.size(); }
        std::string name_of(std::size_t number) const override { return "thread " + std::to_string(number + 1); }
        std::vector<std::string> exchange(std::string_view mine) override {
            return all_.exchange(number_, mine, stopped_);
        }
        Ending end(const Ending& mine) override { return mine; }
        bool stopped() const override { return stopped_; }

    private:
        TeamOfThreads& all_;
        std::size_t number_;
        bool stopped_ = false;
    };

    std::vector<std::string> exchange(std::size_t number, std::string_view mine, bool& stopped) {
        std::unique_lock lock(mutex_);
        said_[number] = mine;
        bytes_ += mine.size();
        const std::size_t round = round_;
        if (++there_ == said_.size()) {
            heard_ = said_;
            stopped_ = stopped_ || asked_;
            there_ = 0;
            ++round_;
            changed_.notify_all();
        } else {
            changed_.wait(lock, [&] { return round_ != round; });
        }
        // Nobody can be a whole round ahead: the next one needs all of them.
        stopped = stopped_;
        return heard_;
    }

    std::mutex mutex_;
    std::condition_variable changed_;
    std::vector<std::string> said_, heard_;
    std::size_t there_ = 0, round_ = 0, bytes_ = 0;
    bool asked_ = false, stopped_ = false;
};

}  // namespace rushlight::small
