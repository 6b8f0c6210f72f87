using ShopFloor.Data.Safety;
using ShopFloor.Web.Counter.Pictures;

namespace ShopFloor.Web.Background.Rounds;

/// <summary>The pictures beside the backups: what is new is copied, what was erased goes, and nothing else ever does.</summary>
/// <param name="DataFolder">The shop's own files.</param>
/// <param name="To">The folder beside the backups.</param>
/// <param name="Keys">The passphrase of sealed copies; null: none is set.</param>
internal sealed record PictureMirror(string DataFolder, string To, SealKeys? Keys)
{
    private string Ending => Keys is null ? "" : SealedFile.Ending;

    /// <summary>Brings the mirror up to date. Pictures never change; where sealing begins or ends, all are written anew.</summary>
    /// <returns>How many pictures the mirror has that the data folder lacks though nobody erased them.</returns>
    public int Update()
    {
        Directory.CreateDirectory(To);
        var from = Path.Combine(DataFolder, PicturesBack.Folder);
        var live = Names(from).ToHashSet(StringComparer.Ordinal);
        foreach (var name in live.Where(n => !File.Exists(Path.Combine(To, n + Ending))))
            Copy(Path.Combine(from, name), Path.Combine(To, name + Ending));
        var erased = new ErasedPictures(DataFolder).Read();
        List<string> lacking = [];
        foreach (var name in Names(To))
        {
            var plain = SealedFile.IsSealed(name) ? Path.GetFileNameWithoutExtension(name) : name;
            var picture = plain.Split('.')[0];
            if (live.Contains(plain) ? name != plain + Ending : erased.Contains(picture))
                File.Delete(Path.Combine(To, name));
            else if (!live.Contains(plain))
                lacking.Add(picture);
        }
        return lacking.Distinct(StringComparer.Ordinal).Count();
    }

    private static IEnumerable<string> Names(string folder) =>
        Directory.Exists(folder)
            ?
            [
                .. Directory
                    .GetFiles(folder)
                    .Select(Path.GetFileName)
                    .OfType<string>()
                    .Where(n => !n.EndsWith(".part", StringComparison.Ordinal)),
            ]
            : [];

    private void Copy(string from, string to)
    {
        if (Keys is not null)
        {
            SealedFile.Seal(from, to, Keys);
            return;
        }
        File.Copy(from, to + ".part", overwrite: true);
        File.Move(to + ".part", to);
    }
}
