// The layout of the field file, seen by other programs: h5py, xarray and VTK's own reader.

#include <gtest/gtest.h>

#include <cstdlib>

#include "sample_run.h"

namespace tabmelt {
namespace {

// Runs the script on this file of a result.
void expect_of(const char* script, const char* name) {
  const sample::Folder folder;
  sample::write(folder.path());
  const auto outcome = sample::run_python(script, (folder / name).string());
  if (outcome.status == sample::module_missing) GTEST_SKIP() << outcome.output;
  EXPECT_EQ(outcome.status, 0) << outcome.output;
}

const char* const h5py_script = R"python(
import sys
try:
    import h5py, numpy as np
except ImportError as missing:
    print(missing); sys.exit(77)
f = h5py.File(sys.argv[1], 'r')
nr, nz, T, M = 12, 9, 4, 7
N, P = nr * nz, (nr + 1) * (nz + 1)

assert f.attrs['schema_name'] == 'tabmelt-result'
assert f.attrs['schema_version'] == 1 and f.attrs['complete'] == 1
assert f.attrs['Conventions'] == 'CF-1.10'
assert f.attrs['title'] and f.attrs['program_version'] and f.attrs['date'].endswith('Z')

# VTKHDF 2.0, unstructured grid, temporal: https://docs.vtk.org/en/latest/vtk_file_formats/
v = f['VTKHDF']
assert v.attrs['Version'].dtype == 'i4' and list(v.attrs['Version']) == [2, 0]
kind = v.attrs.get_id('Type').get_type()
assert not kind.is_variable_str() and kind.get_size() == 16 and kind.get_cset() == h5py.h5t.CSET_ASCII
assert v.attrs['Type'] == b'UnstructuredGrid'
def is_array(path, dtype, shape):
    d = v[path]
    assert d.dtype == np.dtype(dtype) and d.shape == shape, (path, d.dtype, d.shape)
for name, value in (('NumberOfPoints', P), ('NumberOfCells', N), ('NumberOfConnectivityIds', 4 * N)):
    is_array(name, 'i8', (1,)); assert v[name][0] == value
is_array('Points', 'f8', (P, 3)); is_array('Connectivity', 'i8', (4 * N,))
is_array('Offsets', 'i8', (N + 1,)); is_array('Types', 'u1', (N,))
assert (v['Types'][:] == 9).all() and (v['Offsets'][:] == 4 * np.arange(N + 1)).all()
quads = v['Points'][:][v['Connectivity'][:].reshape(N, 4)]
a, b, c = quads[:, 0], quads[:, 1], quads[:, 2]
assert (np.cross(b - a, c - b)[:, 2] > 0).all(), 'corners must run anticlockwise'
r, z = f['mesh/r_edges'][:], f['mesh/z_edges'][:]
i, j = np.arange(N) % nr, np.arange(N) // nr
assert (quads[:, 0, 0] == r[i]).all() and (quads[:, 2, 0] == r[i + 1]).all()
assert (quads[:, 0, 1] == z[j]).all() and (quads[:, 2, 1] == z[j + 1]).all()

for name in ('temperature', 'liquid_fraction', 'electric_potential'):
    is_array('CellData/' + name, 'f4', (T * N,))
    d = v['CellData/' + name]
    assert d.chunks == (N,) and d.shuffle and d.compression == 'gzip' and d.maxshape == (None,)
is_array('CellData/current_density', 'f4', (T * N, 3))
assert v['CellData/current_density'].chunks == (N, 3)
is_array('CellData/region_id', 'u1', (N,)); is_array('CellData/vtkGhostType', 'u1', (N,))
is_array('CellData/peak_temperature', 'f4', (N,))
is_array('CellData/peak_liquid_fraction', 'f4', (N,))
empty = v['CellData/region_id'][:] == 0
assert 0 < empty.sum() < N
assert (v['CellData/vtkGhostType'][:] == np.where(empty, 32, 0)).all()
t = v['CellData/temperature'][:].reshape(T, N)
assert (t[:, empty] == 296).all()
assert (t[:, ~empty] == (300 + np.arange(N) + 1000 * np.arange(T)[:, None])[:, ~empty]).all()

s = v['Steps']
assert s.attrs['NSteps'] == T and s.attrs['NSteps'].dtype == 'i8' and s.attrs['NSteps'].shape == ()
is_array('Steps/Values', 'f8', (T,))
for name in ('PartOffsets', 'PointOffsets'):
    is_array('Steps/' + name, 'i8', (T,)); assert not s[name][:].any()
for name in ('CellOffsets', 'ConnectivityIdOffsets'):
    is_array('Steps/' + name, 'i8', (T, 1)); assert not s[name][:].any()
is_array('Steps/NumberOfParts', 'i8', (T,)); assert (s['NumberOfParts'][:] == 1).all()
assert set(s['CellDataOffsets']) == set(v['CellData'])
for name in s['CellDataOffsets']:
    is_array('Steps/CellDataOffsets/' + name, 'i8', (T,))
    moving = v['CellData/' + name].shape[0] == T * N
    assert (s['CellDataOffsets/' + name][:] == np.arange(T) * (N if moving else 0)).all(), name

g = f['fields']
for name in ('temperature', 'liquid_fraction', 'electric_potential', 'current_density'):
    shape = (T, nz, nr) + ((3,) if name == 'current_density' else ())
    assert g[name].is_virtual and g[name].shape == shape and g[name].dtype == 'f4'
    assert (g[name][:] == v['CellData/' + name][:].reshape(shape)).all(), name
for name in ('region_id', 'peak_temperature', 'peak_liquid_fraction'):
    assert g[name].is_virtual and (g[name][:] == v['CellData/' + name][:].reshape(nz, nr)).all()
assert (g['r'][:] == (r[1:] + r[:-1]) / 2).all() and (g['z'][:] == (z[1:] + z[:-1]) / 2).all()
assert (g['time'][:] == s['Values'][:]).all() and g['time'].id != s['Values'].id
for name, d in g.items():
    if h5py.h5ds.is_scale(d.id): continue
    want = ['time', 'z', 'r', 'component'][:d.ndim] if d.ndim > 2 else ['z', 'r']
    assert [axis[0].name.split('/')[-1] for axis in d.dims] == want, name
for name, d in f['series'].items():
    assert d.dtype == 'f8' and d.shape == (M,), name
    if name != 'time': assert d.dims[0][0] == f['series/time'], name
for name, d in f['results'].items():
    assert d.dtype == 'f8' and d.shape == (), name
assert h5py.check_string_dtype(f['texts/case'].dtype).encoding == 'utf-8'
assert 'µm' in f['texts/case'][()].decode()
assert list(map(bytes.decode, f['mesh/region_names'][:])) == [
    'empty', 'electrode', 'strip', 'can', 'insulating disc']
ids = v['CellData/region_id'].attrs
assert list(ids['flag_values']) == [0, 1, 2, 3, 4]
assert ids['flag_meanings'].split() == ['empty', 'electrode', 'strip', 'can', 'insulating_disc']

seen = []
def described(name, item):
    if isinstance(item, h5py.Dataset):
        seen.append(name)
        assert item.attrs.get('units'), name + ' has no units'
        assert item.attrs.get('long_name'), name + ' has no long_name'
f.visititems(described)
assert len(seen) > 100
assert f['VTKHDF/CellData/temperature'].attrs['units'] == 'K'
assert f['series/current'].attrs['units'] == 'A' and f['results/ledger_can'].attrs['units'] == 'J'
)python";

TEST(Layout, is_as_described_when_seen_through_h5py) { expect_of(h5py_script, "result.vtkhdf"); }

// The groups with axes open as they are; those without need made-up names for their dimensions.
const char* const xarray_script = R"python(
import sys
try:
    import h5py, numpy as np, xarray
    import h5netcdf
except ImportError as missing:
    print(missing); sys.exit(77)
def group(name, **more):
    return xarray.open_dataset(sys.argv[1], engine='h5netcdf', group=name, **more)
f = h5py.File(sys.argv[1], 'r')
fields = group('fields')
assert dict(fields.sizes) == {'time': 4, 'z': 9, 'r': 12, 'component': 3}, fields.sizes
assert fields.temperature.dims == ('time', 'z', 'r') and fields.temperature.units == 'K'
assert fields.current_density.dims == ('time', 'z', 'r', 'component')
assert (fields.temperature == f['fields/temperature'][:]).all()
assert (fields.r == f['fields/r'][:]).all() and fields.r.units == 'm'
k, j, i = 2, 5, 3
place = dict(time=f['fields/time'][k], z=f['fields/z'][j], r=f['fields/r'][i])
assert fields.electric_potential.sel(place, method='nearest') == f['fields/electric_potential'][k, j, i]
series = group('series')
assert series.current.dims == ('time',) and (series.current == f['series/current'][:]).all()
assert (series.time == f['series/time'][:]).all() and series.current.units == 'A'
results = group('results')
assert results.ledger_can.item() == f['results/ledger_can'][()] and results.ledger_can.units == 'J'
mesh = group('mesh', phony_dims='sort')
assert (mesh.r_edges == f['mesh/r_edges'][:]).all() and (mesh.z_edges == f['mesh/z_edges'][:]).all()
)python";

TEST(Layout, opens_in_xarray_with_its_axes) { expect_of(xarray_script, "result.vtkhdf"); }

// VTK 9.1 does not know steps and shows the first; later ones play them all.
const char* const vtk_script = R"python(
import sys
try:
    from vtkmodules.vtkIOHDF import vtkHDFReader
    from vtkmodules.util.numpy_support import vtk_to_numpy
    import h5py, numpy as np
except ImportError as missing:
    print(missing); sys.exit(77)
reader = vtkHDFReader()
reader.SetFileName(sys.argv[1])
reader.Update()
grid = reader.GetOutput()
f = h5py.File(sys.argv[1], 'r')
N = f['VTKHDF/NumberOfCells'][0]
assert grid.GetNumberOfCells() == N, grid.GetNumberOfCells()
assert grid.GetNumberOfPoints() == f['VTKHDF/NumberOfPoints'][0]
assert grid.GetCellType(0) == 9
for name in f['VTKHDF/CellData']:
    got = vtk_to_numpy(grid.GetCellData().GetArray(name))
    assert (got == f['VTKHDF/CellData/' + name][:N]).all(), name
assert abs(grid.GetCell(5).GetBounds()[1] - f['mesh/r_edges'][6]) == 0
)python";

TEST(Layout, first_frame_reads_in_vtk) { expect_of(vtk_script, "result.vtkhdf"); }

const char* const xdmf_script = R"python(
import re, sys, os
import xml.etree.ElementTree as xml
try:
    import h5py, numpy as np
except ImportError as missing:
    print(missing); sys.exit(77)
root = xml.parse(sys.argv[1]).getroot()
folder = os.path.dirname(sys.argv[1])
nr, nz, T = 12, 9, 4
N, P = nr * nz, (nr + 1) * (nz + 1)
assert root.tag == 'Xdmf' and root.get('Version') == '3.0'
collection = root.find('Domain/Grid')
assert collection.get('GridType') == 'Collection' and collection.get('CollectionType') == 'Temporal'
grids = collection.findall('Grid')
assert len(grids) == T

def read(item):
    "What a reader of the bar form takes: path|start:stride:count:size, one number per dimension."
    name, path = item.text.strip().split(':', 1)
    f = h5py.File(os.path.join(folder, name), 'r')
    want = tuple(int(n) for n in item.get('Dimensions').split())
    if '|' not in path:
        data = f[path][:]
    else:
        path, slab = path.split('|')
        start, stride, count, size = ([int(n) for n in part.split()] for part in slab.split(':'))
        assert f[path].shape == tuple(size), (path, size)
        data = f[path][tuple(slice(a, a + s * c, s) for a, s, c in zip(start, stride, count))]
    assert data.shape == want, (path, data.shape, want)
    assert data.dtype.itemsize == int(item.get('Precision'))
    assert data.dtype.kind == {'Float': 'f', 'Int': 'i', 'UChar': 'u'}[item.get('NumberType')]
    return data

field = h5py.File(os.path.join(folder, 'result.vtkhdf'), 'r')
for k, grid in enumerate(grids):
    assert float(grid.find('Time').get('Value')) == field['fields/time'][k]
    topology = grid.find('Topology')
    assert topology.get('TopologyType') == 'Quadrilateral'
    assert int(topology.get('NumberOfElements')) == N
    assert read(topology.find('DataItem')).size == 4 * N
    assert read(grid.find('Geometry/DataItem')).shape == (P, 3)
    names = [a.get('Name') for a in grid.findall('Attribute')]
    assert set(names) == set(field['VTKHDF/CellData']) and len(names) == 8
    for attribute in grid.findall('Attribute'):
        assert attribute.get('Center') == 'Cell'
        data, view = read(attribute.find('DataItem')), field['fields'].get(attribute.get('Name'))
        vector = attribute.get('AttributeType') == 'Vector'
        assert vector == (attribute.get('Name') == 'current_density')
        if view is None: continue
        whole = view[k] if view.ndim > 2 else view[:]
        assert (data == whole.reshape(data.shape)).all(), attribute.get('Name')
)python";

TEST(Layout, xdmf_points_at_the_right_numbers) { expect_of(xdmf_script, "result.xdmf"); }

}  // namespace
}  // namespace tabmelt
