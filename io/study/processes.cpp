#include "io/study/processes.h"

#ifdef TABMELT_MPI
#include <mpi.h>

#include <cstdlib>
#include <numeric>
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
  }
  ~MpiProcesses() override { MPI_Finalize(); }
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

 private:
  int rank_ = 0, count_ = 1;
};

}  // namespace

std::unique_ptr<Processes> joined_processes() {
  // A program that nobody launched under MPI would start a daemon of its own, half a second for
  // nothing. These are set by mpirun (Open MPI, MPICH) and by srun.
  for (const char* name : {"OMPI_COMM_WORLD_SIZE", "PMIX_RANK", "PMI_RANK", "PMI_SIZE"})
    if (std::getenv(name) != nullptr) return std::make_unique<MpiProcesses>();
  return std::make_unique<Processes>();
}

#else

std::unique_ptr<Processes> joined_processes() { return std::make_unique<Processes>(); }

#endif

}  // namespace tabmelt
