#include "io/study/processes.h"

#ifdef TABMELT_MPI
#include <mpi.h>

#include <chrono>
#include <cstdlib>
#include <memory>
#include <numeric>
#include <thread>
#endif

namespace tabmelt {

#ifdef TABMELT_MPI

namespace {

class MpiProcesses : public Processes {
 public:
  MpiProcesses() {
    // Only the thread that started it calls MPI; the others compute.
    int provided = 0;
    MPI_Init_thread(nullptr, nullptr, MPI_THREAD_FUNNELED, &provided);
    MPI_Comm_rank(MPI_COMM_WORLD, &rank_);
    MPI_Comm_size(MPI_COMM_WORLD, &count_);
    MPI_Comm_dup(MPI_COMM_WORLD, &at_the_end_);
  }
  int rank() const override { return rank_; }
  int count() const override { return count_; }

  std::vector<std::string> gathered(const std::string& mine) override {
    const auto all = static_cast<std::size_t>(count_);
    const int length = static_cast<int>(mine.size());
    std::vector<int> lengths(all), places(all, 0);
    MPI_Allgather(&length, 1, MPI_INT, lengths.data(), 1, MPI_INT, MPI_COMM_WORLD);
    std::partial_sum(lengths.begin(), lengths.end() - 1, places.begin() + 1);
    std::string together(static_cast<std::size_t>(places.back() + lengths.back()), '\0');
    MPI_Allgatherv(mine.data(), length, MPI_CHAR, together.data(), lengths.data(), places.data(),
                   MPI_CHAR, MPI_COMM_WORLD);
    std::vector<std::string> parts;
    for (std::size_t n = 0; n < all; ++n)
      parts.push_back(together.substr(static_cast<std::size_t>(places[n]),
                                      static_cast<std::size_t>(lengths[n])));
    return parts;
  }

  void leave(bool failed) {
    using std::chrono::steady_clock;
    constexpr std::chrono::seconds patience{10};
    const auto last = steady_clock::now() + patience;
    MPI_Request all_are_here;
    MPI_Ibarrier(at_the_end_, &all_are_here);
    for (int here = 0; !here;) {
      MPI_Test(&all_are_here, &here, MPI_STATUS_IGNORE);
      if (!here && failed && steady_clock::now() > last) MPI_Abort(MPI_COMM_WORLD, 1);
      if (!here) std::this_thread::sleep_for(std::chrono::milliseconds(2));
    }
    MPI_Finalize();
  }

 private:
  int rank_ = 0, count_ = 1;
  MPI_Comm at_the_end_ = MPI_COMM_NULL;  // what is said there meets nothing that was said before
};

std::unique_ptr<MpiProcesses> joined;

// A program that nobody launched under MPI would start a daemon of its own, half a second for
// nothing. The names are set by mpirun (Open MPI, MPICH) and by srun.
bool launched() {
  for (const char* name : {"OMPI_COMM_WORLD_SIZE", "PMIX_RANK", "PMI_RANK", "PMI_SIZE"})
    if (std::getenv(name) != nullptr) return true;
  return false;
}

}  // namespace

Processes& joined_processes() {
  static Processes alone;
  if (!joined && launched()) joined = std::make_unique<MpiProcesses>();
  return joined ? *joined : alone;
}

void leave_processes(bool failed) {
  if (joined) joined->leave(failed);
}

#else

Processes& joined_processes() {
  static Processes alone;
  return alone;
}

void leave_processes(bool) {}

#endif

}  // namespace tabmelt
