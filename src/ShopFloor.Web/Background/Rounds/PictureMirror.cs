using ShopFloor.Data;
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
    /// <returns>
    /// How many pictures the mirror has that the data folder lacks though nobody erased them; in a mirror that is known to be this shop's, of
    /// those that its database knows.
    /// </returns>
    public int Update()
    {
        PrivateFolder.Create(To);
        var from = Path.Combine(DataFolder, PicturesBack.Folder);
        var live = Names(from).ToHashSet(StringComparer.Ordinal);
        var known = KnownPictures.In(ShopDatabase.FileIn(DataFolder));
        var erased = Settled(live, known);
        foreach (var name in live.Where(n => PicturesBack.IsCutOff(new FileInfo(Path.Combine(from, n)), Path.Combine(To, n + Ending))))
            Copy(Path.Combine(from, name), Path.Combine(To, name + Ending));
        List<string> lacking = [];
        foreach (var name in Names(To))
        {
            var plain = Plain(name);
            var picture = IdIn(plain);
            if (live.Contains(plain) ? name != plain + Ending : erased.Contains(picture) || IsNoLongerKept(plain, live))
                File.Delete(Path.Combine(To, name));
            // One that is shorter here than there was cut off here: it is as good as gone.
            else if (!live.Contains(plain) || PicturesBack.IsCutOff(new FileInfo(Path.Combine(To, name)), Path.Combine(from, plain)))
                lacking.Add(picture);
        }
        return lacking.Distinct(StringComparer.Ordinal).Count(p => known.Contains(p) || !erased.Contains(ErasedPictures.Own));
    }

    /// <summary>
    /// What was erased. The first time, that is also what lies in the mirror and the database knows no more: it was erased before there was
    /// a list. Only a mirror that has some of the pictures that are here is looked through so: else it is another shop's, or these are not all.
    /// </summary>
    private IReadOnlySet<string> Settled(HashSet<string> live, IReadOnlySet<string> known)
    {
        var list = new ErasedPictures(DataFolder);
        var erased = list.Read();
        if (live.Count == 0 || erased.Contains(ErasedPictures.Own) || erased.Contains(ErasedPictures.Other))
            return erased;
        var kept = Names(To).Select(Plain).ToList();
        if (kept.Count == 0 || kept.Exists(live.Contains))
            list.Settle(ErasedPictures.Own, kept.Where(n => !live.Contains(n)).Select(IdIn).Distinct().Where(p => !known.Contains(p)));
        else
            list.Settle(ErasedPictures.Other, []);
        return list.Read();
    }

    // Files as they came were kept beside their clean copies once.
    private static bool IsNoLongerKept(string plain, HashSet<string> live) =>
        Path.GetExtension(plain) == ".original" && live.Contains(Path.ChangeExtension(plain, "clean"));

    private static string Plain(string name) => SealedFile.IsSealed(name) ? Path.GetFileNameWithoutExtension(name) : name;

    private static string IdIn(string plain) => plain.Split('.')[0];

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
            SealedFile.Seal(from, to, Keys);
        else
            Backup.Copy(from, to);
    }
}
