// Lets HDF5 work on a JournaledFile: a virtual file driver whose writes never fail. HDF5 1.10
// cannot let go of a file that it cannot write (its objects stay open and it crashes while closing
// them or when the process ends), so what goes wrong is asked from the file, not from HDF5.
//
// Interface: HDF5 Virtual File Layer, H5FDpublic.h of HDF5 1.10.
#pragma once

#include <H5Cpp.h>

#include "io/result/journaled_file.h"

namespace tabmelt {

// Access properties for H5::H5File; whatever name is given there, `file`, which must be open and
// outlive the H5::H5File, is used. To be used inside an Hdf5Section; throws H5::Exception.
H5::FileAccPropList access_through(JournaledFile& file);

}  // namespace tabmelt
