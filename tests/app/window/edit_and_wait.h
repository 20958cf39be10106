// The program that is killed in the tests of recovery: the test program itself, started again with two
// variables set.
#pragma once

namespace hoopwright {

/// The cage to edit, and the folder for copies of what is not saved.
constexpr const char* kEditThis = "HOOPWRIGHT_TEST_CAGE";
constexpr const char* kCopiesHere = "HOOPWRIGHT_TEST_ROOT";
/// The node reach it sets.
constexpr double kEdited_mm = 63.5;

/// Opens the cage, edits it, says "edited" and waits a minute to be killed. Not 0: it could not even edit.
int editAndWait();

}  // namespace hoopwright
