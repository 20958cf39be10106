// Unsaved work outlives a kill: a copy of what is not saved is written beside the program's own data after
// each edit.
#pragma once

#include <QDateTime>
#include <QObject>
#include <QString>
#include <QTimer>
#include <memory>
#include <vector>

#include "app/window/document.h"

class QLockFile;

namespace hoopwright {

/// Work of a program that ended without closing.
struct LostWork {
    QString folder;
    QString title;
    QString cage_file;  ///< empty: was never saved
    QDateTime when;     ///< of the last copy
    /// Held from finding it until it is taken or thrown away, so that two programs do not take the same.
    /// Shared by the copies of this value in lists and dialogs.
    std::shared_ptr<QLockFile> lock;
};

/// Keeps the copy for one document. The folder of copies has one folder a running program, with a lock that
/// tells whether that program still lives.
class Recovery : public QObject {
    Q_OBJECT
public:
    /// `root`: where copies are kept; made if it is not there.
    Recovery(Document& document, QString root, QObject* parent = nullptr);
    ~Recovery() override;  ///< a program that ends in order leaves no copy

    /// Writes now what would be written in a second.
    void flush();
    const QString& root() const { return root_; }
    static QString usualRoot();
    /// Copies in `root` whose program is gone.
    static std::vector<LostWork> find(const QString& root);
    /// Opens the copy as unsaved work and throws it away (this document's own copy follows at once). With
    /// problems the copy stays.
    Problems restore(const LostWork& lost);
    static void discard(const LostWork& lost);

private:
    void onChange(Document::Change change);
    bool makeFolder();

    Document& document_;
    QString root_, folder_;
    std::unique_ptr<QLockFile> lock_;
    QTimer wait_;
};

}  // namespace hoopwright
