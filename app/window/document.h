// One open job: the value, its files, undo without limit, and all that follows from it.
#pragma once

#include <QObject>
#include <QString>
#include <QUndoStack>
#include <filesystem>
#include <functional>
#include <map>
#include <string>
#include <vector>

#include "app/window/edit_command.h"
#include "core/files/job_file.h"
#include "core/model/cage_geometry.h"
#include "rules/check.h"

namespace hoopwright {

class Document : public QObject {
    Q_OBJECT
public:
    enum class Change {
        edited,    ///< the job has another value; geometry and report are of the new one
        replaced,  ///< another job is open
        saved,     ///< file names or the saved mark changed, the job did not
    };
    Q_ENUM(Change)

    explicit Document(QObject* parent = nullptr);
    ~Document() override;

    const Job& job() const { return *job_; }
    JobRef jobRef() const { return job_; }
    /// Absolute paths; `cage` is empty for a job that was never saved. The drivers' files are in the job
    /// itself (cage.driver_files, absolute), as drivers come and go with undo.
    const JobFiles& files() const { return files_; }
    const CageGeometry& geometry() const { return geometry_; }
    const CheckReport& report() const { return report_; }
    /// What was on disk of the driver's file (absolute path), for a save that keeps every line nobody
    /// changed.
    FileTextRef driverText(const std::string& file) const;
    const std::vector<RuleTableRef>& tables() const { return tables_; }
    /// Tables that a job names but that could not be read after an edit or undo; empty when all is well.
    const Problems& tableProblems() const { return table_problems_; }
    QUndoStack& undoStack() { return stack_; }

    QString title() const;  ///< the job's name, else the file's, else "New job"
    bool dirty() const;     ///< something is not saved

    /// Opens a cage file and all it names. With any problem the open job stays, untouched.
    Problems open(const std::filesystem::path& cage);
    /// Opens a job that has no cage file yet. The file names in `job` are absolute.
    Problems startNew(Job job, JobFiles files);
    /// Opens a job found after the program was killed: dirty from the start.
    Problems openRecovered(Job job, JobFiles files);

    /// Writes every file whose value changed. @pre files().cage is not empty.
    Problems save();
    /// Gives the cage a new file, then saves. Car, drivers and stock stay the files they are.
    Problems saveAs(const std::filesystem::path& cage);

    /// Runs `change` on a copy of the job; if the copy is different it becomes the job, with one step of undo
    /// called `words`. Edits in a row with the same `key` are one step. A car whose points its readings do
    /// not lead to any more is not taken: then nothing changes, and what is returned says why; else it is
    /// empty.
    QString edit(const QString& words, const std::function<void(Job&)>& change, const QByteArray& key = {});
    /// A key no other drag has.
    QByteArray newKey();
    /// Scans of the car that were read, by CarScan::file: no step of undo, and there for every step of it.
    void takeScans(const ScanMeshes& meshes);
    bool hasScan(const std::string& file) const { return known_scans_.contains(file); }

    /// Puts a rule table (absolute path) in or out of the job, undoable. Problems: the file is no good,
    /// nothing changed.
    Problems useTable(const std::filesystem::path& file, bool use);
    /// Uses the shop's book in that file, begun if there is no such file; undoable. Problems: the file is no
    /// good or can't be written, nothing changed.
    Problems useShop(const std::filesystem::path& file);
    /// Reads a table of the job anew, after its file was written: no step of undo. Problems: the job keeps
    /// the table as it last read.
    Problems readTableAnew(const std::filesystem::path& file);

signals:
    void changed(hoopwright::Document::Change change);

private:
    Problems adopt(Job job, JobFiles files);
    void show(JobRef job);
    /// The same job with all its scans that were read.
    JobRef withScans(JobRef job) const;
    void recompute();
    Problems readTables(const std::vector<std::string>& files);
    Problems writeParts();

    JobRef job_;
    JobRef saved_;  ///< what is on disk
    JobFiles files_;
    std::map<std::string, FileTextRef> driver_texts_;  ///< by absolute path
    std::map<std::string, std::string> spelled_;       ///< absolute path -> as the cage file writes it
    std::map<std::string, RuleTableRef> known_tables_;
    ScanMeshes known_scans_;
    std::vector<RuleTableRef> tables_;
    Problems table_problems_;
    CageGeometry geometry_;
    CheckReport report_;
    QUndoStack stack_;
    bool recovered_ = false;
    int keys_ = 0;
};

/// File names in the cage made absolute against its folder; `spelled` gets how each was written.
void makeFilesAbsolute(CageLayout& cage, const std::filesystem::path& folder,
                       std::map<std::string, std::string>& spelled);
/// File names as they should be written in a cage file in `folder`: as they were spelled if that still leads
/// there.
void makeFilesRelative(CageLayout& cage, const std::filesystem::path& folder,
                       const std::map<std::string, std::string>& spelled);

}  // namespace hoopwright
