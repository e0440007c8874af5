#include "viz/window/movie.h"

#include <vtkErrorCode.h>
#include <vtkImageData.h>
#include <vtkNew.h>
#include <vtkOggTheoraWriter.h>

#include <algorithm>
#include <fstream>
#include <system_error>

#include "viz/pictures/animation.h"

namespace tabmelt::window {

namespace {
constexpr int moments_per_second = 12;
}

void write_movie(const StoredRun& run, const std::filesystem::path& ogv,
                 const std::optional<pictures::TemperatureRange>& range) {
  pictures::Animation animation(run, range);
  std::error_code ignored;
  std::filesystem::create_directories(ogv.parent_path(), ignored);
  // VTK would report an unwritable path on the terminal only, so the path is tried first.
  if (!std::ofstream(ogv, std::ios::binary)) {
    throw drawing::PictureError("cannot write " + ogv.string());
  }
  vtkNew<vtkImageData> image;
  image->SetDimensions(animation.width, animation.height, 1);
  image->AllocateScalars(VTK_UNSIGNED_CHAR, 3);
  vtkNew<vtkOggTheoraWriter> movie;
  movie->SetInputData(image);
  movie->SetFileName(ogv.c_str());
  movie->SetRate(moments_per_second);
  movie->SetQuality(2);
  movie->Start();
  for (std::size_t moment = 0; moment < animation.moments() && movie->GetError() == 0; ++moment) {
    const drawing::Raster raster = animation.page(moment).raster(animation.width);
    auto from = raster.rgba.begin();
    for (int row = raster.height - 1; row >= 0; --row) {
      auto* to = static_cast<std::uint8_t*>(image->GetScalarPointer(0, row, 0));
      for (int column = 0; column < raster.width; ++column, from += 4) {
        to = std::copy_n(from, 3, to);
      }
    }
    image->Modified();
    movie->Write();
  }
  const bool failed = movie->GetError() != 0 || movie->GetErrorCode() != vtkErrorCode::NoError;
  movie->End();
  if (failed) {
    throw drawing::PictureError("cannot write " + ogv.string());
  }
}

}  // namespace tabmelt::window
