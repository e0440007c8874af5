// Where result files are searched for, one process reads many of them, in place of one process
// each: dividing off and ending takes longer than reading. It is divided off anew after it has come
// to an end over a file, as it may inside of HDF5 and nowhere else.
#pragma once

// Has `read` called there. Prints why and aborts if that came to an end in lines of ours.
void read_in_helper(void (*read)(bool sound), bool sound);
