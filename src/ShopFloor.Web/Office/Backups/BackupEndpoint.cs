using ShopFloor.Web.Hosting;
using ShopFloor.Web.Security;

namespace ShopFloor.Web.Office.Backups;

/// <summary>A backup to be kept in another place. Each download is written into the security log.</summary>
public static class BackupEndpoint
{
    public static void MapBackups(this IEndpointRouteBuilder app)
    {
        app.MapGet("/office/backups/{name}", SendAsync).RequireAuthorization(Policies.Office).ExcludeFromDescription();
        app.MapGet("/office/backups/{name}/with-pictures", SendWholeAsync).RequireAuthorization(Policies.Office).ExcludeFromDescription();
    }

    private static async Task<IResult> SendAsync(string name, BackupListView view, SecurityLog log, HttpContext http)
    {
        if (view.Find(name) is not { } file)
            return Results.NotFound();
        await log.NoteAsync("backup downloaded", WorkerClaim.IdOf(http.User)?.ToString() ?? "", name, isGood: true, http.RequestAborted);
        http.Response.Headers.CacheControl = "no-store";
        return Results.File(file.FullName, "application/octet-stream", file.Name);
    }

    private static async Task<IResult> SendWholeAsync(
        string name,
        BackupListView view,
        SecurityLog log,
        HostSettings settings,
        HttpContext http
    )
    {
        if (view.Find(name) is not { } file)
            return Results.NotFound();
        var who = WorkerClaim.IdOf(http.User)?.ToString() ?? "";
        await log.NoteAsync("backup downloaded", who, $"{name} with pictures", isGood: true, http.RequestAborted);
        http.Response.Headers.CacheControl = "no-store";
        var whole = AsideFile.New(settings);
        var isWhole = false;
        try
        {
            await WholeBackup.WriteAsync(file, whole, http.RequestAborted);
            isWhole = true;
        }
        finally
        {
            // What was written of it takes room.
            if (!isWhole)
                await whole.DisposeAsync();
        }
        whole.Position = 0;
        return Results.File(whole, "application/zip", name + ".zip");
    }
}
