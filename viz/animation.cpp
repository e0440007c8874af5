#include "viz/animation.h"

#include <fmt/format.h>
#include <vtkErrorCode.h>
#include <vtkNew.h>
#include <vtkOggTheoraWriter.h>
#include <vtkRenderWindow.h>
#include <vtkWindowToImageFilter.h>

#include <fstream>
#include <system_error>

#include "viz/pictures.h"
#include "viz/viewer.h"

namespace tabmelt {

namespace {
constexpr int moments_per_second = 12;
}

void write_movie(const StoredRun& run, const std::filesystem::path& ogv) {
  // VTK would report an unwritable path on the terminal only, so the path is tried first.
  if (!std::ofstream(ogv, std::ios::binary)) {
    throw PictureError("cannot write " + ogv.string());
  }
  Viewer viewer({run}, Viewer::Use::pictures);
  vtkNew<vtkWindowToImageFilter> grab;
  grab->SetInput(viewer.window());
  grab->SetInputBufferTypeToRGB();
  grab->ReadFrontBufferOff();
  vtkNew<vtkOggTheoraWriter> movie;
  movie->SetInputConnection(grab->GetOutputPort());
  movie->SetFileName(ogv.c_str());
  movie->SetRate(moments_per_second);
  movie->SetQuality(2);
  movie->Start();
  for (std::size_t moment = 0; moment < viewer.times().size() && movie->GetError() == 0; ++moment) {
    viewer.show_moment(moment);
    grab->Modified();
    movie->Write();
  }
  const bool failed = movie->GetError() != 0 || movie->GetErrorCode() != vtkErrorCode::NoError;
  movie->End();
  if (failed) {
    throw PictureError("cannot write " + ogv.string());
  }
}

std::vector<std::filesystem::path> write_moments(const StoredRun& run,
                                                 const std::filesystem::path& folder) {
  std::error_code trouble;
  std::filesystem::create_directories(folder, trouble);
  if (trouble) {
    throw PictureError("cannot make the folder " + folder.string() + ": " + trouble.message());
  }
  Viewer viewer({run}, Viewer::Use::pictures);
  std::vector<std::filesystem::path> files;
  for (std::size_t moment = 0; moment < viewer.times().size(); ++moment) {
    viewer.show_moment(moment);
    files.push_back(folder / fmt::format("moment-{:04}.png", moment));
    viewer.save(files.back());
  }
  return files;
}

}  // namespace tabmelt
