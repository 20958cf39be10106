// Long work that ends in a file: where to, how far it is, what came of it.
#pragma once

#include <QString>
#include <filesystem>
#include <functional>
#include <optional>
#include <string>

#include "core/base/progress.h"

class QWidget;

namespace hoopwright {

class Desk;

/// Runs long work beside the window while a small dialog says how far it is; what it returns is a sentence of
/// what went wrong, or empty; nothing at all if the person stopped it.
std::optional<QString> workBeside(QWidget* window, const QString& words,
                                  const std::function<QString(const WorkProgress&)>& work);
/// Whole or not at all; what went wrong, or empty.
QString writeWhole(const QString& file, const QByteArray& bytes);

/// In the folder of the job's file, under its name: "saloon" and "turntable" give saloon_turntable.
std::filesystem::path besideJob(const Desk& desk, const std::string& usual);
/// Asks for a file, offered beside the job's. Empty: the person does not want to.
QString askFile(const Desk& desk, QWidget* window, const QString& title, const std::string& usual,
                const QString& kind, const QString& ending);
/// Says what workBeside() came to.
void tell(Desk& desk, QWidget* window, const std::optional<QString>& wrong, const QString& file);

}  // namespace hoopwright
