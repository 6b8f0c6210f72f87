using ShopFloor.Domain;
using ShopFloor.Web.Hosting;

namespace ShopFloor.Web.Office.Duties;

/// <summary>Ids of erased customers in a file beside the database. A backup is older than what was erased since; the file is not.</summary>
public sealed class ErasureList(HostSettings settings)
{
    private readonly Lock gate = new();
    private readonly string file = Path.Combine(settings.DataFolder, "erased-customers.txt");

    /// <summary>Adds one, flushed to the disk.</summary>
    public void Add(CustomerId customer)
    {
        lock (gate)
        {
            if (Read().Contains(customer))
                return;
            using var stream = new FileStream(file, FileMode.Append, FileAccess.Write, FileShare.Read);
            stream.Write(System.Text.Encoding.ASCII.GetBytes($"{customer.Value:N}\n"));
            stream.Flush(flushToDisk: true);
        }
    }

    /// <summary>All of them; a line that is no id was broken by a crash and is left out.</summary>
    public IReadOnlyList<CustomerId> Read() =>
        File.Exists(file)
            ?
            [
                .. File.ReadLines(file)
                    .Where(l => Guid.TryParseExact(l.Trim(), "N", out _))
                    .Select(l => new CustomerId(Guid.Parse(l.Trim()))),
            ]
            : [];
}
