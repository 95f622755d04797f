#include "engine/cli/inspect_many.hpp"

#include <algorithm>
#include <atomic>
#include <condition_variable>
#include <exception>
#include <mutex>
#include <thread>

namespace packproof::cli {

namespace {

// One subject's result together with the branch of sources that its places point into.
struct Slot {
    std::optional<text::Sources> sources;
    Inspected inspected;
    std::exception_ptr failure;
    bool done = false;
};

bool is_touched(const Subject& subject, const document::Folders& folders, const Touched& touched,
                Inspected& inspected) {
    if (!touched) return true;
    text::Sources sources;
    text::Messages messages;
    const auto description = document::load_description(subject.file, sources, messages, folders);
    if (!description) return true;  // its mistakes are to be told
    inspected.touched = touched_of(*description, *touched);
    return !inspected.touched.empty();
}

class Crew {
  public:
    Crew(std::span<const Subject> subjects, const rules::RuleSet& rules, const text::Sources& trunk,
         const inspect::Options& options, const Touched& touched)
        : subjects_(subjects),
          rules_(rules),
          trunk_(trunk),
          first_(static_cast<text::SourceIndex>(trunk.size())),
          options_(options),
          touched_(touched),
          slots_(subjects.size()) {}

    void work() {
        facts::SolverMemory memory;  // variants of one design ask the same of solvers again and again
        for (std::size_t at = next_++; at < subjects_.size(); at = next_++) {
            Slot& slot = slots_[at];
            try {
                inspect_one(at, slot, memory);
            } catch (...) {
                slot.failure = std::current_exception();
            }
            const std::lock_guard lock(mutex_);
            slot.done = true;
            changed_.notify_one();
        }
    }

    // Waits until it is done. Its branch may be adopted only when no thread reads the trunk any more.
    Slot& wait_for(std::size_t at) {
        std::unique_lock lock(mutex_);
        changed_.wait(lock, [&] { return slots_[at].done; });
        return slots_[at];
    }

    void stop() { next_ = subjects_.size(); }

  private:
    void inspect_one(std::size_t at, Slot& slot, facts::SolverMemory& memory) {
        const Subject& subject = subjects_[at];
        inspect::Options options = options_;
        options.folders.overlays = subject.overlays;
        options.memory = &memory;
        if (!is_touched(subject, options.folders, touched_, slot.inspected)) {
            slot.inspected.passed_over = true;
            return;
        }
        const std::size_t number = first_ + at * document::most_files_of_a_description;
        slot.sources.emplace(trunk_, static_cast<text::SourceIndex>(number));
        slot.inspected.report =
            inspect::inspect(subject.file, rules_, *slot.sources, slot.inspected.messages, options);
    }

    std::span<const Subject> subjects_;
    const rules::RuleSet& rules_;
    const text::Sources& trunk_;
    text::SourceIndex first_;
    const inspect::Options& options_;
    const Touched& touched_;
    std::vector<Slot> slots_;
    std::atomic<std::size_t> next_ = 0;
    std::mutex mutex_;
    std::condition_variable changed_;
};

std::size_t threads_for(std::size_t jobs, std::size_t subjects) {
    const std::size_t wanted = jobs > 0 ? jobs : std::max(1U, std::thread::hardware_concurrency());
    return std::min(wanted, subjects);
}

}  // namespace

void inspect_many(std::span<const Subject> subjects, const rules::RuleSet& rules, text::Sources& sources,
                  const inspect::Options& options, const Touched& touched, std::size_t jobs,
                  const std::function<void(const Subject&, Inspected&&)>& take) {
    // Branches read this trunk, which stays as it is while the results go into `sources`.
    const text::Sources trunk = sources;
    Crew crew(subjects, rules, trunk, options, touched);
    std::vector<std::jthread> threads;  // joined at the end, also when `take` throws
    const std::size_t count = threads_for(jobs, subjects.size());
    if (count <= 1)
        crew.work();
    else
        for (std::size_t i = 0; i < count; ++i)
            threads.emplace_back([&crew] { crew.work(); });
    try {
        for (std::size_t at = 0; at < subjects.size(); ++at) {
            Slot& slot = crew.wait_for(at);
            if (slot.failure) std::rethrow_exception(slot.failure);
            if (slot.sources) sources.adopt(*std::move(slot.sources));
            slot.sources.reset();
            take(subjects[at], std::move(slot.inspected));
        }
    } catch (...) {
        crew.stop();
        throw;
    }
}

}  // namespace packproof::cli
